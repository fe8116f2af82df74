/** A clock from a fitted line: which terms are kept, and how well they are known. */
import type { ClockSolution } from './clock-solution';
import type { LineFit } from './fit-line';

const PPM = 1e-6;

/** The scatter of one point and the factor from standard error to half-width of 95 %. */
export type Scatter = Readonly<{
  pointS: number;
  factor: number;
  /** Standard deviation of what shifts all points alike, s (the mean lag of a speaker). */
  commonS: number;
}>;

/**
 * The clock of a fit. A drift under twice its standard error is reported as 0, with the reason;
 * the offset is then the mean one and its uncertainty still holds the drift that may be there.
 *
 * @param fit a line through at least two points at distinct times
 */
export function clockFromFit(fit: LineFit, scatter: Scatter, rejected: number): ClockSolution {
  const driftError = fit.driftErrorPerS * scatter.pointS;
  const driftUncertaintyPpm = (scatter.factor * driftError) / PPM;
  const keepsDrift = Math.abs(fit.drift) >= 2 * driftError;
  const meanError = fit.meanErrorPerS * scatter.pointS;
  const offsetError = keepsDrift
    ? Math.hypot(fit.offsetErrorPerS * scatter.pointS, scatter.commonS)
    : Math.hypot(meanError, fit.meanSourceS * driftError, scatter.commonS);
  const sumSquaresS2 = keepsDrift ? fit.sumSquaresS2 : fit.sumSquaresNoDriftS2;
  return {
    offsetS: keepsDrift ? fit.offsetS : fit.meanOffsetS,
    offsetUncertaintyS: scatter.factor * offsetError,
    driftPpm: keepsDrift ? fit.drift / PPM : 0,
    driftUncertaintyPpm,
    residualRmsS: Math.sqrt(sumSquaresS2 / fit.count),
    used: fit.count,
    rejected,
    reason: keepsDrift ? null : smallDriftReason(fit.drift / PPM, driftError / PPM),
  };
}

function smallDriftReason(driftPpm: number, errorPpm: number): string {
  return `a drift of ${driftPpm.toFixed(0)} ppm is under twice its standard error of ${errorPpm.toFixed(0)} ppm and is taken as 0`;
}
