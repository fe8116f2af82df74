/** What a run of motion is called, on every screen and in every document alike. */
import { nameFromId } from '../session/name-from-id';
import { flownAgain, runKind } from './flight-course';
import { RUN_WORDS } from './kind-words';
import type { Reconstruction } from './reconstruction';

type Flown = Pick<Reconstruction, 'plan' | 'phases' | 'steps'>;

/**
 * A run by its step and piece; one without a step by the step that it repeats, or by its kind.
 *
 * @returns `To 40, piece 1 of 2`, `Hold 250, again`, `Break-off`, `Unplanned hold`; empty for no run
 */
export function nameOfRun(flown: Flown, index: number): string {
  const run = flown.phases[index];
  if (run === undefined) return '';
  if (run.step !== null) {
    const pieces = flown.steps.find(({ id }) => id === run.step)?.pieces ?? 1;
    const piece = pieces > 1 && run.piece !== null ? `, piece ${run.piece} of ${pieces}` : '';
    return `${nameFromId(run.step)}${piece}`;
  }
  const again = flownAgain(flown, index);
  if (again !== null) return `${nameFromId(again)}, again`;
  const kind = runKind(flown, index);
  return kind === 'break-off' ? 'Break-off' : `Unplanned ${RUN_WORDS[kind]}`;
}
