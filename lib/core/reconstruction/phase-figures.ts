/** Phases: runs of motion, matched to the plan's steps, as figures. */
import type { Figure } from '../figure';
import { matchSteps, type RangedRun, type StepMatch } from '../phases/match-steps';
import { findMotionRuns } from '../phases/motion-runs';
import { type DeviationNumbers, rateDeviation } from '../phases/rate-deviation';
import { type Measured, type RunQuantities, runQuantities } from '../phases/run-quantities';
import type { Plan } from '../session/plan';
import type { SessionMotion } from './estimated-motion';
import { figureOf } from './figure-of';
import type { Phase, RateDeviation } from './reconstruction';

/** Where the last phase ends: contact or the last row. */
export type LastEdge = Readonly<{ atS: number; halfS: number; method: string }>;

/** A phase with the numbers that later stages need. */
export type FlownPhase = Readonly<{
  phase: Phase;
  run: RangedRun;
  match: StepMatch;
}>;

const EDGE_METHOD =
  'Interpolated crossing of the hold rate by the estimated range rate, after short runs are merged (inside a gap placed by the way travelled in it); the interval is the time the rate stays within its own noise of the threshold, and half a row.';
const FIRST_METHOD = 'First row of the telemetry.';

function deviationFigures(
  numbers: DeviationNumbers,
  session: SessionMotion,
  run: RangedRun,
): RateDeviation {
  const { stated } = session;
  const figure = (
    measured: Measured,
    unit: string,
    systematic: number | null,
    method: string,
  ): Figure =>
    figureOf(session.origin, {
      value: measured.value,
      unit,
      random: measured.half,
      systematic,
      method,
      fromS: run.startS,
      toS: run.endS,
    });
  const base =
    'Closing rate minus planned rate at that range, without the ramps at either end and the last 3 m';
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
  context: Readonly<{ session: SessionMotion; plan: Plan; first: boolean; last: LastEdge | null }>,
): Phase {
  const { session, plan } = context;
  const { origin, stated, motion } = session;
  const step = match.stepIndex === null ? undefined : plan.steps[match.stepIndex];
  const time = (value: number, halfS: number, method: string): Figure =>
    figureOf(origin, { value, unit: 's', random: halfS, method, fromS: value, toS: value });
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
    step?.kind === 'move' && run.motion === 'closing'
      ? rateDeviation(motion, step, {
          fromS: run.startS,
          toS: run.endS,
          rangeStartM: run.rangeStartM,
          rangeEndM: run.rangeEndM,
          accelerationMps2: plan.accelerationMps2,
        })
      : null;
  return {
    step: step?.id ?? null,
    piece: match.piece,
    motion: run.motion,
    startS: time(run.startS, run.startHalfS, context.first ? FIRST_METHOD : EDGE_METHOD),
    endS: time(run.endS, run.endHalfS, context.last?.method ?? EDGE_METHOD),
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
    rateDeviation: numbers === null ? null : deviationFigures(numbers, session, run),
  };
}

/**
 * Finds the phases of a session.
 *
 * @param session the estimated motion
 * @param plan thresholds and steps
 * @param last where the last phase ends
 * @returns one after the other, in time order
 */
export function findPhases(
  session: SessionMotion,
  plan: Plan,
  last: LastEdge,
): readonly FlownPhase[] {
  const { motion } = session;
  const runs = findMotionRuns(motion, {
    holdRateMps: plan.holdRateMps,
    holdDwellS: plan.holdDwellS,
    holdCrossSpeedMps: plan.holdCrossSpeedMps,
    accelerationMps2: plan.accelerationMps2,
    endS: last.atS,
    endHalfS: last.halfS,
  });
  const quantities = runs.map((run) => runQuantities(motion, run));
  const ranged = runs.map((run, index): RangedRun => {
    const q = quantities[index];
    return {
      ...run,
      rangeStartM: q?.rangeStartM.value ?? Number.NaN,
      rangeEndM: q?.rangeEndM.value ?? Number.NaN,
      rangeMeanM: q?.rangeMeanM ?? Number.NaN,
    };
  });
  const matches = matchSteps(ranged, plan);
  return ranged.flatMap((run, index): FlownPhase[] => {
    const match = matches[index];
    const q = quantities[index];
    if (match === undefined || q === undefined) return [];
    const context = {
      session,
      plan,
      first: index === 0,
      last: index === ranged.length - 1 ? last : null,
    };
    return [{ phase: phaseOf(run, q, match, context), run, match }];
  });
}
