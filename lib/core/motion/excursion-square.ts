/** How well the square of an excursion is known. */
import type { ExcursionPosterior } from './excursion-posterior';

/**
 * Relative standard deviation of the integral of an excursion's squared rate over time, over all shapes that explain the data.
 * Of a rise and a fall along straight lines of r and d seconds, their middles D apart, it is the height's square times
 * D - (r + d) / 6. Position tells its area: shapes that are higher are pointed or short, so that it is mostly better known
 * than the height.
 *
 * @returns 0 or more
 *
 * Source: elementary; the variance of a mixture, a normal height's square within each.
 */
export function squareShareSd({ members }: ExcursionPosterior): number {
  let [mean, square] = [0, 0];
  for (const { weight, heightMps, variance, up, down } of members) {
    const lastsS = down.middleS - up.middleS - (up.lastsS + down.lastsS) / 6;
    const own = (heightMps * heightMps + variance) * lastsS;
    const spread = (4 * heightMps * heightMps * variance + 2 * variance * variance) * lastsS ** 2;
    mean += weight * own;
    square += weight * (own * own + spread);
  }
  return mean > 0 ? Math.sqrt(Math.max(0, square - mean * mean)) / mean : 0;
}
