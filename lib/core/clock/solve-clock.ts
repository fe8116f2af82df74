/** A clock from tie points: which terms are kept, and how well they are known. */
import { NORMAL_95 } from '../math/statistics';
import { type ClockSolution, statedClock } from './clock-solution';
import { likelyDrift, student975 } from './error-scale';
import { fitLine, type LineFit, type WeighedPoint } from './fit-line';

const PPM = 1e-6;

/**
 * Tie points that tell the drift no better than this are taken for the offset alone: over an hour
 * such a clock would be uncertain by 7 s, and clocks are supposed to run wrong by a third of it.
 * Our own choice, no source.
 */
const LARGEST_DRIFT_ERROR = 1000 * PPM;

/**
 * `known`: the points' standard deviations are stated, and luck in the residuals does not shrink
 * them. `found`: they are only supposed, and the residuals tell the scatter.
 */
type PointErrors = 'known' | 'found';

/** What the points are fitted beside: the drift that stands where they tell none, ppm. */
export type PointClock = Readonly<{ standingPpm: number; errors: PointErrors }>;

/** Errors are multiplied by `scale`; the 95 % interval is `factor` of them. */
type Spread = Readonly<{ scale: number; factor: number }>;

function spreadOf(misfit: number, degrees: number, errors: PointErrors): Spread {
  if (degrees < 1) return { scale: 1, factor: NORMAL_95 };
  const ratio = Math.sqrt(misfit / degrees);
  // Birge's ratio, never under 1 where the standard deviations are stated.
  return errors === 'found'
    ? { scale: ratio, factor: student975(degrees) }
    : { scale: Math.max(1, ratio), factor: NORMAL_95 };
}

const ppmText = (drift: number): string => (drift / PPM).toFixed(0);

/**
 * Why a drift is taken as 0.
 *
 * @param drift and its standard error, dimensionless
 */
export function smallDriftReason(drift: number, standardError: number): string {
  return `a drift of ${ppmText(drift)} ppm is under twice its standard error of ${ppmText(standardError)} ppm and is taken as 0`;
}

function standingReason({ count, driftError }: LineFit, standingPpm: number): string {
  const left = standingPpm === 0 ? 'taken as 0' : `left as stated, ${standingPpm} ppm`;
  if (count === 1) {
    const drift = standingPpm === 0 ? '' : `; the drift is ${left}`;
    return `one tie point gives an offset only${drift}`;
  }
  if (!Number.isFinite(driftError)) {
    return `the tie points share one time and give an offset only; the drift is ${left}`;
  }
  return `the tie points lie too close together to tell a drift (its standard error would be ${ppmText(Number(driftError.toPrecision(2)))} ppm); it is ${left}`;
}

function smallReason(fit: LineFit, error: number, standingPpm: number): string {
  if (standingPpm === 0) return smallDriftReason(fit.drift, error);
  return `the tie points ask for ${ppmText(fit.drift)} ppm more drift than the ${standingPpm} ppm stated, under twice the standard error of ${ppmText(error)} ppm; the drift is left as stated`;
}

/** The offset alone; the drift that may be there all the same is in its uncertainty. */
function offsetOnly(fit: LineFit, { errors }: PointClock, reason: string): ClockSolution {
  const terms = { offsetS: fit.meanOffsetS, driftPpm: 0 };
  const solution = { ...statedClock(terms, reason), used: fit.count };
  if (fit.count === 1 && errors === 'found') return solution;
  const { scale, factor } = spreadOf(fit.misfitNoDrift, fit.count - 1, errors);
  // Fewer than three points tell no scatter to lean on below the one supposed.
  const widened = fit.count < 3 ? Math.max(1, scale) : scale;
  const { driftError, meanErrorS, meanSourceS } = fit;
  const drift = likelyDrift(Number.isFinite(driftError) ? driftError * widened : driftError);
  const halfS = factor * Math.hypot(meanErrorS * widened, meanSourceS * drift);
  return { ...solution, offsetUncertaintyS: halfS };
}

function bothTerms(fit: LineFit, clock: PointClock): ClockSolution {
  const terms = { offsetS: fit.offsetS, driftPpm: fit.drift / PPM };
  if (fit.count === 2 && clock.errors === 'found') {
    const reason = 'two tie points leave nothing over to tell an uncertainty by';
    return { ...statedClock(terms, reason), used: 2 };
  }
  const { scale, factor } = spreadOf(fit.misfit, fit.count - 2, clock.errors);
  const error = fit.driftError * scale;
  if (Math.abs(fit.drift) < 2 * error) {
    const reason = smallReason(fit, error, clock.standingPpm);
    const aboutStanding = Math.hypot(error, fit.drift);
    const kept = offsetOnly(fit, clock, reason);
    return { ...kept, driftUncertaintyPpm: (factor * aboutStanding) / PPM };
  }
  return {
    ...statedClock(terms, null),
    used: fit.count,
    offsetUncertaintyS: factor * fit.offsetErrorS * scale,
    driftUncertaintyPpm: (factor * error) / PPM,
  };
}

/**
 * The clock of tie points by weighted least squares.
 *
 * The drift is told where the points reach far enough apart and it is at least twice its standard
 * error; else only the offset is fitted, with the reason, and its uncertainty still holds the drift
 * that may be there. Two points without stated standard deviations fix both terms exactly.
 *
 * @param points at least one
 * @returns the clock without residuals; uncertainties are null where nothing tells them
 *
 * Source: elementary; Birge, Physical Review 40 (1932) 207, for points that agree worse than stated.
 */
export function solveClock(points: readonly WeighedPoint[], clock: PointClock): ClockSolution {
  const standing = clock.standingPpm * PPM;
  // Only the departure from the drift that stands is fitted.
  const fit = fitLine(
    points.map((point) => ({ ...point, sessionS: point.sessionS - point.sourceS * standing })),
  );
  const solution =
    fit.driftError <= LARGEST_DRIFT_ERROR
      ? bothTerms(fit, clock)
      : offsetOnly(fit, clock, standingReason(fit, clock.standingPpm));
  return { ...solution, driftPpm: solution.driftPpm + clock.standingPpm };
}
