/** A clock from a fitted line: which terms are kept, and how well they are known. */
import { type ClockSolution, statedClock } from './clock-solution';
import type { LineFit } from './fit-line';

const PPM = 1e-6;

/** The scatter of one point, s, and the factor from standard error to half-width of 95 %. */
export type Scatter = Readonly<{ pointS: number; factor: number }>;

/**
 * The clock of a fit. A drift under twice its standard error is reported as 0, with the reason;
 * the offset is then the mean one and its uncertainty still holds the drift that may be there.
 *
 * @param fit a line through at least two points at distinct times
 */
export function clockFromFit(fit: LineFit, scatter: Scatter): ClockSolution {
  const driftError = fit.driftErrorPerS * scatter.pointS;
  const keepsDrift = Math.abs(fit.drift) >= 2 * driftError;
  const meanError = fit.meanErrorPerS * scatter.pointS;
  const offsetError = keepsDrift
    ? fit.offsetErrorPerS * scatter.pointS
    : Math.hypot(meanError, fit.meanSourceS * driftError);
  const sumSquaresS2 = keepsDrift ? fit.sumSquaresS2 : fit.sumSquaresNoDriftS2;
  const terms = keepsDrift
    ? { offsetS: fit.offsetS, driftPpm: fit.drift / PPM }
    : { offsetS: fit.meanOffsetS, driftPpm: 0 };
  return {
    ...statedClock(terms, keepsDrift ? null : smallDriftReason(fit.drift, driftError)),
    offsetUncertaintyS: scatter.factor * offsetError,
    driftUncertaintyPpm: (scatter.factor * driftError) / PPM,
    residualRmsS: Math.sqrt(sumSquaresS2 / fit.count),
    used: fit.count,
  };
}

/**
 * Why a drift is taken as 0.
 *
 * @param drift and its standard error, dimensionless
 */
export function smallDriftReason(drift: number, standardError: number): string {
  return `a drift of ${(drift / PPM).toFixed(0)} ppm is under twice its standard error of ${(standardError / PPM).toFixed(0)} ppm and is taken as 0`;
}
