/** The flight's final step against the same step of simulator runs. */
import type { PassSense } from '../compare/last-pass';
import { valuesAt } from '../compare/run-column';
import type { StepSpan } from '../rules/rule-context';
import type { MoveStep, Plan } from '../session/plan';
import type { SessionInput, SimulationSet } from '../session/session-input';
import { compareAligned, START_QUESTION } from './aligned-comparison';
import { axisMeasures } from './axis-measures';
import { axisRatios } from './axis-ratios';
import { type CompareTracks, trackOf } from './compare-tracks';
import type { Comparison, RunGroup, RunLeftOut, RunScores } from './comparison';
import { compareScores, SCORE_NAMES, type ScoredStep, scoresOf } from './comparison-scores';
import type { CheckedSource } from './data-quality';
import type { SessionMotion } from './estimated-motion';
import { type Origin, withPeople } from './figure-of';
import { comparedQuantity, type FinalStep, finalMove, finalStepOfRun } from './final-step';
import type { StepResult } from './reconstruction';
import { runGroups } from './run-groups';
import { comparedOrigins } from './runs-origin';
import type { SimulatedRuns } from './task-simulator';
import { vehicleAxes } from './vehicle-axes';

/** `outward` where the step's target lies farther out than where the flight began it. */
function senseOf(step: FinalStep, move: MoveStep): PassSense {
  const range = step.quantity('range');
  if (range === null) return 'inward';
  const column = { tS: range.tS, values: range.value, spans: range.stretches };
  const [startM = Number.NaN] = valuesAt(column, Float64Array.of(step.startS));
  return startM < move.toM ? 'outward' : 'inward';
}

function isStep(found: FinalStep | RunLeftOut): found is FinalStep {
  return 'session' in found;
}

/** The runs that make the bands: predictions, where there are any, for a reconstruction is no draw of them. */
function banded(runs: readonly FinalStep[], groups: readonly RunGroup[]): readonly FinalStep[] {
  const predicted = new Set(
    groups.flatMap(({ basis, names }) => (basis === 'prediction' ? names : [])),
  );
  return predicted.size === 0 ? runs : runs.filter(({ name }) => predicted.has(name));
}

function runScoresOf({ name, sha256 }: FinalStep, scores: ScoredStep): RunScores {
  return {
    name,
    sha256,
    scores: SCORE_NAMES.map((score) => scores.get(score.name)?.value ?? null),
  };
}

/** The flight's final step, the plan it belongs to, and what its figures rest on. */
type ComparedFlight = Readonly<{
  step: FinalStep;
  plan: Plan;
  origin: Origin;
  completed: boolean;
  people: FlownSteps['people'];
}>;

/** A comparison, the columns from which it can be asked again in another way, and the runs behind it. */
export type ComparedRuns = Readonly<{
  comparison: Comparison;
  tracks: CompareTracks;
  simulated: SimulatedRuns;
}>;

/** Scores, axes and groups: what does not depend on what was aligned. */
function wholeStep(
  flight: ComparedFlight,
  all: readonly FinalStep[],
  { groups, set }: Readonly<{ groups: readonly RunGroup[]; set: SimulationSet }>,
) {
  const counted = banded(all, groups);
  const scores = new Map(all.map((step) => [step.name, scoresOf(step)]));
  const of = (step: FinalStep): ScoredStep => scores.get(step.name) ?? new Map();
  const originsOf = (steps: readonly FinalStep[]) =>
    comparedOrigins(
      flight.origin,
      set,
      steps.map(({ name }) => name),
    );
  const origins = originsOf(counted);
  const compared = compareScores(scoresOf(flight.step), counted.map(of), {
    origins,
    step: flight.step,
  }).map((score) => (flight.completed ? score : { ...score, standsOut: false }));
  const every = all.map((step) => runScoresOf(step, of(step)));
  const names = new Set(counted.map(({ name }) => name));
  return {
    counted,
    origin: origins.runs,
    scores: compared,
    axes: axisRatios(compared, origins, flight.completed ? 'completed' : 'not completed'),
    measures: axisMeasures(flight.step, counted, origins),
    runScores: every.filter(({ name }) => names.has(name)),
    vehicle: vehicleAxes(compared, every, { groups, origins: originsOf(all) }),
  };
}

/**
 * Holds a flight's final step against the same step of simulator runs.
 *
 * Each run is estimated as the flight is, and brought to whole metres of axial distance on its last
 * pass, so that each counts the same whatever its rate of samples. Scores are over the time of the step.
 *
 * @param set the runs, described as the flight's source is
 * @returns the comparison; `null` where the plan's last step is no move
 */
function compareRuns(flight: ComparedFlight, set: SimulationSet): ComparedRuns | null {
  const move = finalMove(flight.plan);
  if (move === null) return null;
  const found = set.runs.map((run) => finalStepOfRun(run, flight.plan));
  const all = found.filter(isStep);
  const groups = runGroups(flight.step, all, set.about);
  const { counted, origin, ...whole } = wholeStep(flight, all, { groups, set });
  const tracks: CompareTracks = {
    pass: { step: move.id, sense: senseOf(flight.step, move) },
    flight: trackOf(flight.step),
    runs: counted.map(trackOf),
    others: all.filter((step) => !counted.includes(step)).map(trackOf),
    channels: flight.origin.channels,
    sources: flight.origin.sources,
    files: set.files,
    sha256: set.sha256,
    people: flight.people,
  };
  const comparison: Comparison = {
    runs: counted.length,
    groups,
    leftOut: found.filter((each): each is RunLeftOut => !isStep(each)),
    step: move.id,
    completed: flight.completed,
    ...compareAligned(tracks, START_QUESTION),
    ...whole,
  };
  const simulated = { flown: flight.step.spans, runs: counted, origin };
  return { comparison, tracks, simulated };
}

/** The plan's steps as flown. */
type FlownSteps = Readonly<{
  spans: ReadonlyMap<string, StepSpan>;
  steps: readonly StepResult[];
  contactS: number | null;
  /** What people set, by `step:ID` and under `contact`. */
  people: Readonly<Record<string, readonly string[]>>;
}>;

/**
 * The final step against the session's simulator runs.
 *
 * @param flown the plan's steps as flown, and their spans by step id
 * @returns `null` where the session has no runs, or its final step was not flown
 */
export function compareSession(
  { plan, simulations }: SessionInput,
  session: SessionMotion | null,
  checked: readonly CheckedSource[],
  flown: FlownSteps,
): ComparedRuns | null {
  if (plan === null || simulations === undefined || session === null) return null;
  const move = finalMove(plan);
  const { spans, steps, contactS } = flown;
  const span = spans.get(move?.id ?? '');
  if (span === undefined) return null;
  const { source } = session;
  const { people } = flown;
  const origin = withPeople(session.origin, people[`step:${move?.id}`] ?? []);
  const step: FinalStep = {
    name: source.source.file,
    sha256: source.source.sha256,
    session,
    startS: span.startS,
    endS: span.endS,
    durationHalfS: Math.hypot(span.startHalfS, span.endHalfS),
    spans,
    contactS,
    quantity: comparedQuantity(session, checked, span),
    linesQuantity: comparedQuantity(session, checked, null),
  };
  const completed = steps.find(({ id }) => id === move?.id)?.completed ?? false;
  return compareRuns({ step, plan, origin, completed, people }, simulations);
}
