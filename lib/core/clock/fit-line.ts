/** A clock's line by least squares. */

/** A time on the source's clock and the session time it belongs to, s. */
export type TiePoint = readonly [sourceS: number, sessionS: number];

/**
 * session = offsetS + source x (1 + drift), fitted, with standard errors for a scatter of 1 s.
 *
 * Multiply `offsetErrorPerS` (1), `driftErrorPerS` (1/s) and `meanErrorPerS` (1) by the scatter of
 * one point to get standard errors of the offset, the drift and the line in mid-log.
 */
export type LineFit = Readonly<{
  count: number;
  offsetS: number;
  drift: number;
  meanSourceS: number;
  /** Session minus source in mid-log, s: the offset where the drift is taken as 0. */
  meanOffsetS: number;
  offsetErrorPerS: number;
  driftErrorPerS: number;
  meanErrorPerS: number;
  /** Sum of squared residuals of the line, s2, and about the mean offset without drift. */
  sumSquaresS2: number;
  sumSquaresNoDriftS2: number;
}>;

/**
 * Least squares through tie points, centred on their mean so that large times lose no digits.
 *
 * @param points at least one; two or more at distinct source times for a drift
 * @returns the fit; drift 0 where all source times are equal
 *
 * Source: elementary; checked against the certified values of NIST StRD "Norris".
 */
export function fitLine(points: readonly TiePoint[]): LineFit {
  const count = points.length;
  const meanSourceS = points.reduce((sum, [sourceS]) => sum + sourceS, 0) / count;
  const meanOffsetS =
    points.reduce((sum, [sourceS, sessionS]) => sum + (sessionS - sourceS), 0) / count;
  let spreadS2 = 0;
  let productS2 = 0;
  for (const [sourceS, sessionS] of points) {
    const fromMeanS = sourceS - meanSourceS;
    spreadS2 += fromMeanS * fromMeanS;
    productS2 += fromMeanS * (sessionS - sourceS - meanOffsetS);
  }
  const drift = spreadS2 > 0 ? productS2 / spreadS2 : 0;
  let sumSquaresS2 = 0;
  let sumSquaresNoDriftS2 = 0;
  for (const [sourceS, sessionS] of points) {
    const residualS = sessionS - sourceS - meanOffsetS;
    sumSquaresNoDriftS2 += residualS ** 2;
    sumSquaresS2 += (residualS - drift * (sourceS - meanSourceS)) ** 2;
  }
  return {
    count,
    offsetS: meanOffsetS - drift * meanSourceS,
    drift,
    meanSourceS,
    meanOffsetS,
    offsetErrorPerS:
      spreadS2 > 0 ? Math.sqrt(1 / count + meanSourceS ** 2 / spreadS2) : Math.sqrt(1 / count),
    driftErrorPerS: spreadS2 > 0 ? 1 / Math.sqrt(spreadS2) : Number.POSITIVE_INFINITY,
    meanErrorPerS: Math.sqrt(1 / count),
    sumSquaresS2,
    sumSquaresNoDriftS2,
  };
}

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
