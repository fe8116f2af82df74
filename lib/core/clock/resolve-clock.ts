/** The clock that a session file states: given, or from tie points. */
import { type ClockSolution, statedClock } from './clock-solution';
import type { ClockSpec } from './clock-spec';
import { toSessionSeconds } from './clock-terms';
import type { ClockTie } from './clock-tie';
import { fitLine, student975, type TiePoint } from './fit-line';
import { clockFromFit } from './solve-clock';

/** A tie point with who set it. */
type Point = Readonly<{ kind: 'stated' | 'hand'; at: TiePoint }>;

/** Leaving each point out in turn takes the square of their number; beyond this it is not done. */
const MOST_LEFT_OUT = 500;

/** Tie points that ask for more drift than session.yaml may state are of no clock, ppm. */
const LARGEST_DRIFT_PPM = 100_000;

function solvePoints(points: readonly TiePoint[]): ClockSolution {
  const fit = fitLine(points);
  if (points.length < 2) {
    const terms = { offsetS: fit.meanOffsetS, driftPpm: 0 };
    return { ...statedClock(terms, 'one tie point gives an offset only'), used: points.length };
  }
  if (points.length === 2) {
    const reason = 'two tie points leave nothing over to tell an uncertainty by';
    const terms = { offsetS: fit.offsetS, driftPpm: fit.drift * 1e6 };
    return { ...statedClock(terms, reason), used: 2, residualRmsS: 0 };
  }
  const degrees = points.length - 2;
  const pointS = Math.sqrt(fit.sumSquaresS2 / degrees);
  return clockFromFit(fit, { pointS, factor: student975(degrees) });
}

function withoutPoint(points: readonly Point[], index: number): ClockTie['without'] {
  if (points.length < 2 || points.length > MOST_LEFT_OUT) return null;
  const left = points.flatMap(({ at }, other) => (other === index ? [] : [at]));
  const { offsetS, driftPpm } = solvePoints(left);
  return { offsetS, driftPpm };
}

function tiesOf(points: readonly Point[], solution: ClockSolution): readonly ClockTie[] {
  return points.map(({ kind, at: [sourceS, sessionS] }, index) => ({
    kind,
    label: kind === 'hand' ? 'set by hand' : 'tie point of the session file',
    line: null,
    spokenIndex: null,
    sourceS,
    sessionS,
    residualS: sessionS - toSessionSeconds(solution, sourceS),
    residualBeforeS: sessionS - sourceS,
    sdS: null,
    weight: 1 / points.length,
    used: true,
    reason: 'every tie point counts alike',
    without: withoutPoint(points, index),
    withoutSdS: null,
  }));
}

function clockFromPoints(points: readonly Point[]): ClockSolution {
  const solution = solvePoints(points.map(({ at }) => at));
  const ties = tiesOf(points, solution);
  const before = ties.map(({ sourceS, sessionS }) => (sessionS ?? sourceS) - sourceS);
  return {
    ...solution,
    evidence: {
      lag: null,
      offsetFromLagS: 0,
      rangeBiasM: null,
      rangeBiasUncertaintyM: null,
      residualBeforeRmsS: Math.hypot(...before) / Math.sqrt(before.length),
      outlierRule: 'none: every tie point counts',
      ties,
    },
  };
}

/**
 * The clock of a source whose session file gives offset and drift, or tie points.
 *
 * Tie points: least squares, every point counts, those set by hand among them. One gives the offset
 * only; two fix offset and drift without an uncertainty; from three on the uncertainties come from
 * the residuals, by Student's t. Points set by hand take the place of a clock that was given, unless
 * no clock runs as they say: time would stand still or go back.
 *
 * @param spec the clock stated; `callouts` is found elsewhere, from the words (`alignClock`)
 * @param byHand tie points that people set
 * @returns the clock with its uncertainties; null where none can be told
 */
export function resolveClock(
  spec: Exclude<ClockSpec, { kind: 'callouts' }>,
  byHand: readonly TiePoint[],
): ClockSolution {
  const hand = byHand.map((at): Point => ({ kind: 'hand', at }));
  const stated =
    spec.kind === 'given' ? [] : spec.points.map((at): Point => ({ kind: 'stated', at }));
  if (hand.length > 0) {
    const found = clockFromPoints([...stated, ...hand].sort((a, b) => a.at[0] - b.at[0]));
    if (Math.abs(found.driftPpm) <= LARGEST_DRIFT_PPM) return found;
  }
  const asStated =
    spec.kind === 'given'
      ? statedClock({ offsetS: spec.offsetS, driftPpm: spec.driftPpm }, null)
      : clockFromPoints(stated);
  if (hand.length === 0) return asStated;
  const reason = `with the tie points set by hand the clock would run wrong by more than ${LARGEST_DRIFT_PPM} ppm; they are left out`;
  return { ...asStated, rejected: asStated.rejected + hand.length, reason };
}
