/** The flight's final step against the same step of simulator runs. */
import { ensembleBand } from '../compare/ensemble-band';
import type { PassSense } from '../compare/last-pass';
import { passTimes, type RunColumn, valuesAt } from '../compare/run-column';
import type { EstimatedQuantity, StepSpan } from '../rules/rule-context';
import type { MoveStep, Plan } from '../session/plan';
import type { SessionInput, SimulationSet } from '../session/session-input';
import { axisRatios } from './axis-ratios';
import { COMPARED_QUANTITIES } from './compared-names';
import {
  compareQuantity,
  distanceFromFlight,
  type HeldQuantity,
  listed,
} from './compared-quantity';
import type { Comparison, RunGroup, RunLeftOut, RunScores } from './comparison';
import { compareScores, SCORE_NAMES, type ScoredStep, scoresOf } from './comparison-scores';
import type { CheckedSource } from './data-quality';
import type { SessionMotion } from './estimated-motion';
import { figureOf, type Origin } from './figure-of';
import { comparedQuantity, type FinalStep, finalMove, finalStepOfRun } from './final-step';
import type { StepResult } from './reconstruction';
import { runGroups } from './run-groups';
import { type ComparedOrigins, comparedOrigins } from './runs-origin';
import { vehicleAxes } from './vehicle-axes';

function columnOf({ tS, value, stretches }: EstimatedQuantity): RunColumn {
  return { tS, values: value, spans: stretches };
}

/** `outward` where the step's target lies farther out than where the flight began it. */
function senseOf(step: FinalStep, move: MoveStep): PassSense {
  const range = step.quantity('range');
  if (range === null) return 'inward';
  const [startM = Number.NaN] = valuesAt(columnOf(range), Float64Array.of(step.startS));
  return startM < move.toM ? 'outward' : 'inward';
}

/** When a step passes each distance for the last time, s; all NaN where it shows no axial distance. */
function timesAt(step: FinalStep, gridM: Float64Array, sense: PassSense): Float64Array {
  const axial = step.quantity('axial_distance');
  if (axial === null) return gridM.map(() => Number.NaN);
  const question = { fromS: step.startS, toS: step.endS, gridM, sense };
  return passTimes(columnOf(axial), question);
}

/** Whole metres of axial distance, from 1 on, that the flight passes inside its final step. */
function gridOf(step: FinalStep, sense: PassSense): Float64Array {
  const axial = step.quantity('axial_distance');
  let highM = 0;
  axial?.tS.forEach((atS, row) => {
    const axialM = axial.value[row] ?? 0;
    if (atS >= step.startS && atS <= step.endS && axialM > highM) highM = axialM;
  });
  const metres = Float64Array.from({ length: Math.floor(highM) }, (_, index) => index + 1);
  const times = timesAt(step, metres, sense);
  return metres.filter((_, place) => !Number.isNaN(times[place]));
}

/** Values of a quantity at given instants; all NaN where the run does not carry it. */
function valuesOf(step: FinalStep, times: Float64Array, name: string): Float64Array {
  const quantity = step.quantity(name);
  return quantity === null ? times.map(() => Number.NaN) : valuesAt(columnOf(quantity), times);
}

type Grid = Readonly<{ gridM: Float64Array; flightTimes: Float64Array; sense: PassSense }>;

function holdTogether(
  flight: FinalStep,
  runs: readonly FinalStep[],
  { gridM, flightTimes, sense }: Grid,
): readonly HeldQuantity[] {
  const runTimes = runs.map((run) => timesAt(run, gridM, sense));
  return COMPARED_QUANTITIES.flatMap((named): HeldQuantity[] => {
    if (flight.quantity(named.name) === null) return [];
    const values = runs.map((run, index) =>
      valuesOf(run, runTimes[index] ?? new Float64Array(0), named.name),
    );
    if (values.every((run) => run.every((value) => Number.isNaN(value)))) return [];
    const band = ensembleBand(values, gridM.length);
    return [
      { named, gridM, flight: valuesOf(flight, flightTimes, named.name), runs: values, band },
    ];
  });
}

function isStep(found: FinalStep | RunLeftOut): found is FinalStep {
  return 'session' in found;
}

type Nearest = Readonly<{ name: string; distance: number; index: number }>;

/** The run at the smallest distance, the first of equals; null where none can be compared. */
function nearestRun(runs: readonly FinalStep[], held: readonly HeldQuantity[]): Nearest | null {
  let nearest: Nearest | null = null;
  for (const [index, { name }] of runs.entries()) {
    const distance = distanceFromFlight(index, held);
    if (Number.isNaN(distance)) continue;
    if (nearest === null || distance < nearest.distance) nearest = { name, distance, index };
  }
  return nearest;
}

function nearestFigure({ name, distance }: Nearest, origins: ComparedOrigins) {
  const method =
    'Root mean square of flight minus run at all places of all quantities, each in half-widths of the band (p05 to p95) there.';
  return {
    name,
    distance: figureOf(origins.both, { value: distance, unit: '1', random: null, method }),
  };
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
}>;

/**
 * Holds a flight's final step against the same step of simulator runs.
 *
 * Each run is estimated as the flight is, and brought to whole metres of axial distance on its last
 * pass, so that each counts the same whatever its rate of samples. Scores are over the time of the step.
 *
 * @param set the runs, described as the flight's source is
 * @returns the comparison; `null` where the plan's last step is no move
 */
function compareRuns(flight: ComparedFlight, set: SimulationSet): Comparison | null {
  const move = finalMove(flight.plan);
  if (move === null) return null;
  const found = set.runs.map((run) => finalStepOfRun(run, flight.plan));
  const all = found.filter(isStep);
  const groups = runGroups(flight.step, all, set.about);
  const steps = banded(all, groups);
  const sense = senseOf(flight.step, move);
  const gridM = gridOf(flight.step, sense);
  const flightTimes = timesAt(flight.step, gridM, sense);
  const held = holdTogether(flight.step, steps, { gridM, flightTimes, sense });
  const scores = steps.map(scoresOf);
  const scoresByName = new Map(steps.map(({ name }, index) => [name, scores[index]]));
  const origins = comparedOrigins(
    flight.origin,
    set,
    steps.map(({ name }) => name),
  );
  const everyRun = comparedOrigins(
    flight.origin,
    set,
    all.map(({ name }) => name),
  );
  const whole = compareScores(scoresOf(flight.step), scores, { origins, step: flight.step });
  const compared = flight.completed
    ? whole
    : whole.map((score) => ({ ...score, standsOut: false }));
  const nearest = nearestRun(steps, held);
  const everyScore = all.map((step) =>
    runScoresOf(step, scoresByName.get(step.name) ?? scoresOf(step)),
  );
  return {
    runs: steps.length,
    groups,
    vehicle: vehicleAxes(compared, everyScore, { groups, origins: everyRun }),
    leftOut: found.filter((each): each is RunLeftOut => !isStep(each)),
    step: move.id,
    completed: flight.completed,
    alignedOn: `axial distance, at whole metres of the last ${sense} pass inside the step ${move.id}`,
    flightPassS: listed(flightTimes),
    quantities: held.map((each) => compareQuantity(each, nearest, origins)),
    scores: compared,
    axes: axisRatios(compared, origins),
    runScores: everyScore.filter(({ name }) => scoresByName.has(name)),
    nearest: nearest === null ? null : nearestFigure(nearest, origins),
  };
}

/** The plan's steps as flown. */
type FlownSteps = Readonly<{
  spans: ReadonlyMap<string, StepSpan>;
  steps: readonly StepResult[];
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
): Comparison | null {
  if (plan === null || simulations === undefined || session === null) return null;
  const move = finalMove(plan);
  const { spans, steps } = flown;
  const span = spans.get(move?.id ?? '');
  if (span === undefined) return null;
  const { origin, source } = session;
  const step: FinalStep = {
    name: source.source.file,
    sha256: source.source.sha256,
    session,
    startS: span.startS,
    endS: span.endS,
    durationHalfS: Math.hypot(span.startHalfS, span.endHalfS),
    quantity: comparedQuantity(session, checked),
  };
  const completed = steps.find(({ id }) => id === move?.id)?.completed ?? false;
  return compareRuns({ step, plan, origin, completed }, simulations);
}
