/** Runs that are described alike, and whether they may be held against the flight like for like. */
import { likeForLike } from '../compare/like-for-like';
import { aboutRun, type SimulationsAbout } from '../session/runs-about';
import type { RunGroup } from './comparison';
import type { FinalStep } from './final-step';

const NOTHING_FLOWN = { massKg: null, navigationModel: null, configuration: null };

/** Groups in the order in which their first run comes. */
export function runGroups(
  flight: FinalStep,
  runs: readonly FinalStep[],
  about: SimulationsAbout | undefined,
): readonly RunGroup[] {
  const groups = new Map<string, RunGroup>();
  const flownStepS = flight.session.source.stepS;
  for (const run of runs) {
    const said = aboutRun(about, run.name);
    const runStepS = run.session.source.stepS;
    const key = JSON.stringify([said, runStepS.toPrecision(3)]);
    const known = groups.get(key);
    if (known !== undefined) {
      groups.set(key, { ...known, names: [...known.names, run.name] });
      continue;
    }
    const flown = about?.flown ?? NOTHING_FLOWN;
    const { differs, unstated } = likeForLike({ flown, run: said, flownStepS, runStepS });
    groups.set(key, { ...said, names: [run.name], stepS: runStepS, differs, unstated });
  }
  return [...groups.values()];
}
