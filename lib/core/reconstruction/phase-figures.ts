/** Phases: runs of motion, matched to the plan's steps, as figures. */
import type { Figure } from '../figure';
import { editRuns } from '../phases/edit-runs';
import { type EditedRuns, endOf, uneditedRuns } from '../phases/edited-run';
import { matchSteps, motionOfMove, type RangedRun, type StepMatch } from '../phases/match-steps';
import { findMotionRuns, type MotionRun } from '../phases/motion-runs';
import { type DeviationNumbers, rateDeviation } from '../phases/rate-deviation';
import { type Measured, type RunQuantities, runQuantities } from '../phases/run-quantities';
import type { EditOutcome, PhaseEdit } from '../session/phase-edit';
import type { Plan } from '../session/plan';
import {
  type EditedContext,
  edgeFigure,
  motionRuns,
  peopleOfRun,
  placedRunEdits,
  setEdge,
  stepId,
} from './edited-phases';
import type { SessionMotion } from './estimated-motion';
import { figureOf, type Origin, withPeople } from './figure-of';
import type { Phase, RateDeviation } from './reconstruction';

/** Where the last phase ends: contact or the last row. */
export type LastEdge = Readonly<{
  atS: number;
  halfS: number;
  method: string;
  /** What people set that it rests on; absent where it was computed. */
  people?: readonly string[];
}>;

/** A phase with the numbers that later stages need. */
export type FlownPhase = Readonly<{
  phase: Phase;
  run: RangedRun;
  match: StepMatch;
  /** What people set that its figures rest on; empty where nobody did. */
  people: readonly string[];
}>;

/** Phases as they stand, and the runs behind them before and after people's corrections. */
export type FoundPhases = Readonly<{
  phases: readonly FlownPhase[];
  computed: EditedRuns;
  edited: EditedRuns;
  /** By place among all corrections of phases. */
  outcomes: ReadonlyMap<number, EditOutcome>;
}>;

export const EDGE_METHOD =
  'Interpolated crossing of the hold rate by the estimated range rate, after short runs are merged (inside a gap placed by the way travelled in it); the interval is the time the rate stays within its own noise of the threshold, and half a row.';
const FIRST_METHOD = 'First row of the telemetry.';

function deviationFigures(
  numbers: DeviationNumbers,
  session: SessionMotion,
  { run, origin }: Readonly<{ run: RangedRun; origin: Origin }>,
): RateDeviation {
  const { stated } = session;
  const figure = (
    measured: Measured,
    unit: string,
    systematic: number | null,
    method: string,
  ): Figure =>
    figureOf(origin, {
      value: measured.value,
      unit,
      random: measured.half,
      systematic,
      method,
      fromS: run.startS,
      toS: run.endS,
    });
  const outwards =
    run.motion === 'opening' ? ', both negative outwards (below zero: opening faster)' : '';
  const base = `Closing rate minus planned rate at that range${outwards}, without the ramps at either end and the ${outwards === '' ? 'last' : 'first'} 3 m`;
  return {
    meanMps: figure(numbers.meanMps, 'm/s', stated.rateMps, `${base}; mean over time.`),
    rmsMps: figure(
      numbers.rmsMps,
      'm/s',
      stated.rateMps,
      `${base}; root mean square over time with the variance of the rate's noise taken out.`,
    ),
    peakMps: figure(numbers.peakMps, 'm/s', stated.rateMps, `${base}; largest in size, with sign.`),
    peakS: figure(numbers.peakS, 's', null, `${base}; time of the largest in size.`),
    peakRangeM: figure(numbers.peakRangeM, 'm', stated.rangeM, `${base}; range at the largest.`),
    outsideToleranceS: figure(
      numbers.outsideToleranceS,
      's',
      null,
      `${base}; time with its size over the step's tolerance, crossings interpolated.`,
    ),
  };
}

function phaseOf(
  run: RangedRun,
  quantities: RunQuantities,
  match: StepMatch,
  context: PhaseContext,
): Phase {
  const { session, edited, index } = context;
  const { plan } = edited;
  const { stated, motion } = session;
  const origin = withPeople(session.origin, context.people);
  const step = match.stepIndex === null ? undefined : plan.steps[match.stepIndex];
  const over = { fromS: run.startS, toS: run.endS };
  const range = (measured: Measured, atS: number): Figure =>
    figureOf(origin, {
      value: measured.value,
      unit: 'm',
      random: measured.half,
      systematic: stated.rangeM,
      method: `Estimated range at the edge. ${motion.positionMethod}`,
      fromS: atS,
      toS: atS,
    });
  const numbers =
    step?.kind === 'move' && run.motion === motionOfMove(step)
      ? rateDeviation(motion, step, {
          fromS: run.startS,
          toS: run.endS,
          rangeStartM: run.rangeStartM,
          rangeEndM: run.rangeEndM,
          startHalfS: run.startHalfS,
          endHalfS: run.endHalfS,
          accelerationMps2: plan.accelerationMps2,
        })
      : null;
  return {
    step: step?.id ?? null,
    piece: match.piece,
    motion: run.motion,
    ...edgesOf(context),
    durationS: figureOf(origin, {
      value: run.endS - run.startS,
      unit: 's',
      random: Math.hypot(run.startHalfS, run.endHalfS),
      method: 'End minus start.',
      ...over,
    }),
    rangeStartM: range(quantities.rangeStartM, run.startS),
    rangeEndM: range(quantities.rangeEndM, run.endS),
    meanClosingRateMps: figureOf(origin, {
      value: quantities.meanClosingMps.value,
      unit: 'm/s',
      random: quantities.meanClosingMps.half,
      method: '(Range at start - range at end) / duration.',
      ...over,
    }),
    peakClosingRateMps: figureOf(origin, {
      value: quantities.peakClosingMps.value,
      unit: 'm/s',
      random: quantities.peakClosingMps.half,
      systematic: stated.rateMps,
      method: `Closing rate of the largest size, with its sign. ${motion.rateMethod}`,
      fromS: quantities.peakS,
      toS: quantities.peakS,
    }),
    rateDeviation: numbers === null ? null : deviationFigures(numbers, session, { run, origin }),
    ...namingOf(edited, index),
  };
}

type PhaseContext = Readonly<{
  session: SessionMotion;
  edited: EditedContext;
  index: number;
  people: readonly string[];
  last: LastEdge;
}>;

/** Both edges, and what people set there. */
function edgesOf({ edited, index, last }: PhaseContext) {
  const { runs } = edited.edited;
  const end = endOf(edited.edited, index);
  const start = runs[index]?.start ?? end;
  const methods = [
    index === 0 ? FIRST_METHOD : EDGE_METHOD,
    index === runs.length - 1 ? last.method : EDGE_METHOD,
  ] as const;
  const startSet = setEdge(start, edited, EDGE_METHOD);
  const endSet = setEdge(end, edited, EDGE_METHOD);
  return {
    startS: edgeFigure(start, edited, methods[0]),
    endS: edgeFigure(end, edited, methods[1]),
    ...(startSet === undefined ? {} : { startSet }),
    ...(endSet === undefined ? {} : { endSet }),
  };
}

/** Who gave the run to its step, where somebody did. */
function namingOf({ edited, edits, plan }: EditedContext, index: number): Pick<Phase, 'stepSet'> {
  const run = edited.runs[index];
  if (run === undefined || run.namedBy === null) return {};
  const by = edits[run.namedBy]?.by ?? null;
  return { stepSet: { by, computedStep: stepId(plan, run.computedStepIndex) } };
}

type Ranged = Readonly<{ run: RangedRun; quantities: RunQuantities }>;

function ranged(session: SessionMotion, run: MotionRun): Ranged {
  const quantities = runQuantities(session.motion, run);
  const { rangeStartM, rangeEndM, rangeMeanM } = quantities;
  const ranges = { rangeStartM: rangeStartM.value, rangeEndM: rangeEndM.value, rangeMeanM };
  return { run: { ...run, ...ranges }, quantities };
}

/** Steps with the number of each piece, counted in the order flown. */
function piecesOf({ runs }: EditedRuns): readonly StepMatch[] {
  const counts = new Map<number, number>();
  return runs.map(({ stepIndex }): StepMatch => {
    if (stepIndex === null) return { stepIndex, piece: null };
    const piece = (counts.get(stepIndex) ?? 0) + 1;
    counts.set(stepIndex, piece);
    return { stepIndex, piece };
  });
}

/**
 * Finds the phases of a session: runs of motion, matched to the plan's steps, then people's corrections
 * of them. Runs are matched before they are corrected, so that a moved edge or a split changes nothing
 * but what it names.
 *
 * @param session the estimated motion
 * @param plan thresholds and steps
 * @param last where the last phase ends
 * @param edits what people said of phases, in the order in which they said it
 * @returns phases one after the other, in time order; with no corrections the computed ones to the bit
 */
export function findPhases(
  session: SessionMotion,
  plan: Plan,
  last: LastEdge,
  edits: readonly PhaseEdit[] = [],
): FoundPhases {
  const found = findMotionRuns(session.motion, {
    holdRateMps: plan.holdRateMps,
    holdDwellS: plan.holdDwellS,
    holdCrossSpeedMps: plan.holdCrossSpeedMps,
    accelerationMps2: plan.accelerationMps2,
    endS: last.atS,
    endHalfS: last.halfS,
  }).map((run) => ranged(session, run));
  const matches = matchSteps(
    found.map(({ run }) => run),
    plan,
  );
  const computed = uneditedRuns(
    found.map(({ run }, index) => ({ ...run, stepIndex: matches[index]?.stepIndex ?? null })),
  );
  const stepIds = plan.steps.map(({ id }) => id);
  const { edited, outcomes } = editRuns(computed, placedRunEdits(edits), stepIds);
  const flown = edited === computed ? found : motionRuns(edited).map((run) => ranged(session, run));
  const context = { edited, edits, plan, origin: session.origin };
  const pieces = piecesOf(edited);
  const phases = flown.flatMap(({ run, quantities }, index): FlownPhase[] => {
    const match = pieces[index];
    if (match === undefined) return [];
    const isLast = index === flown.length - 1;
    const people = [...peopleOfRun(context, index), ...(isLast ? (last.people ?? []) : [])];
    const where = { session, edited: context, index, people, last };
    return [{ phase: phaseOf(run, quantities, match, where), run, match, people }];
  });
  return { phases, computed, edited, outcomes };
}
