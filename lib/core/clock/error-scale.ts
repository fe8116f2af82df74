/** From standard errors to intervals, where the scatter is known, doubtful, or to be found. */

/** Source: NIST/SEMATECH e-Handbook, section 1.3.6.7.2, Student's t, 0.975, 1 to 30 degrees. */
const STUDENT_975 = [
  12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179, 2.16, 2.145,
  2.131, 2.12, 2.11, 2.101, 2.093, 2.086, 2.08, 2.074, 2.069, 2.064, 2.06, 2.056, 2.052, 2.048,
  2.045, 2.042,
];

/**
 * Half-width of the 95 % interval in standard errors, where the scatter comes from the residuals.
 *
 * @param degrees degrees of freedom, at least 1
 * @returns Student's t at 0.975, three decimals to 30 degrees; beyond, its expansion about the
 *   normal quantile to the second term (error under 0.0005)
 */
export function student975(degrees: number): number {
  return STUDENT_975[degrees - 1] ?? 1.959_964 + 2.372_3 / degrees + 2.822_5 / degrees ** 2;
}

/**
 * Standard deviation of a drift that nothing tells: clocks are supposed to run no more wrong.
 * Common practice, no source.
 */
const SUPPOSED_DRIFT = 300e-6;

/**
 * Standard deviation of a drift that is taken as 0: as large as the fit allows, and no larger than
 * clocks are supposed to run wrong.
 *
 * @param error standard error of the drift fitted; infinite where none could be
 */
export function likelyDrift(error: number): number {
  return 1 / Math.hypot(1 / error, 1 / SUPPOSED_DRIFT);
}
