/** A clock's line by weighted least squares. */

/** A time on the source's clock and the session time it belongs to, s. */
export type TiePoint = readonly [sourceS: number, sessionS: number];

/** A tie point with how well it is placed: one standard deviation, s, above 0. */
export type WeighedPoint = Readonly<{ sourceS: number; sessionS: number; sdS: number }>;

/**
 * session = offsetS + source x (1 + drift), fitted, with standard errors as the points' standard
 * deviations give them. Where those are only relative, multiply the errors by the scatter.
 */
export type LineFit = Readonly<{
  count: number;
  offsetS: number;
  drift: number;
  /** The weighted mean of the source times, s, and session minus source there without a drift. */
  meanSourceS: number;
  meanOffsetS: number;
  /** Standard errors of the offset (s), the drift (1) and the line at `meanSourceS` (s). */
  offsetErrorS: number;
  driftError: number;
  meanErrorS: number;
  /** Sum of squared residuals over variance: of the line, and without a drift. */
  misfit: number;
  misfitNoDrift: number;
}>;

/**
 * Weighted least squares through tie points, centred on their mean so that large times lose no
 * digits.
 *
 * @param points at least one; two or more at distinct source times for a drift
 * @returns the fit; drift 0 with an infinite error where all source times are equal
 *
 * Source: elementary; checked against the certified values of NIST StRD "Norris".
 */
export function fitLine(points: readonly WeighedPoint[]): LineFit {
  const weighed = points.map((point) => ({ ...point, weight: point.sdS ** -2 }));
  const weights = weighed.reduce((sum, { weight }) => sum + weight, 0);
  const mean = (of: (point: WeighedPoint) => number): number =>
    weighed.reduce((sum, point) => sum + point.weight * of(point), 0) / weights;
  const meanSourceS = mean(({ sourceS }) => sourceS);
  const meanOffsetS = mean(({ sourceS, sessionS }) => sessionS - sourceS);
  let spread = 0;
  let product = 0;
  for (const { sourceS, sessionS, weight } of weighed) {
    const fromMeanS = sourceS - meanSourceS;
    spread += weight * fromMeanS * fromMeanS;
    product += weight * fromMeanS * (sessionS - sourceS - meanOffsetS);
  }
  const drift = spread > 0 ? product / spread : 0;
  let misfit = 0;
  let misfitNoDrift = 0;
  for (const { sourceS, sessionS, weight } of weighed) {
    const residualS = sessionS - sourceS - meanOffsetS;
    misfitNoDrift += weight * residualS ** 2;
    misfit += weight * (residualS - drift * (sourceS - meanSourceS)) ** 2;
  }
  const driftVariance = spread > 0 ? 1 / spread : Number.POSITIVE_INFINITY;
  return {
    count: points.length,
    offsetS: meanOffsetS - drift * meanSourceS,
    drift,
    meanSourceS,
    meanOffsetS,
    offsetErrorS: Math.sqrt(1 / weights + (spread > 0 ? meanSourceS ** 2 * driftVariance : 0)),
    driftError: Math.sqrt(driftVariance),
    meanErrorS: Math.sqrt(1 / weights),
    misfit,
    misfitNoDrift,
  };
}
