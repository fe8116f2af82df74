/** One ramp for all that explain a stretch of a position about as well. */

/** A value of a grid, and the range it stands for. */
type Piece = Readonly<{ at: number; forS: number }>;

/** How far from where it was found the middle is looked for, s. */
const REACH_S = 15;
const FIRST_MIDDLES = 31;
const FIRST_LENGTHS = 18;
const CLOSER = 14;
const ROUNDS = 3;
/** Together the values left out of the next round have less than this share. */
const LEFT_OUT = 1e-4;

function pieces(from: number, to: number, count: number): Piece[] {
  const forS = (to - from) / count;
  return Array.from({ length: count }, (_, k) => ({ at: from + (k + 0.5) * forS, forS }));
}

/** Pieces that grow by one and the same factor. */
function growingPieces(from: number, to: number, count: number): Piece[] {
  const factor = (to / from) ** (1 / count);
  return Array.from({ length: count }, (_, k) => {
    const start = from * factor ** k;
    return { at: start * Math.sqrt(factor), forS: start * (factor - 1) };
  });
}

/** Mean of a grid, and from where to where nearly all weight lies with one piece more to either side. */
function summary(grid: readonly Piece[], weights: readonly number[]) {
  const sum = weights.reduce((a, b) => a + b, 0);
  const mean = weights.reduce((a, weight, k) => a + weight * (grid[k]?.at ?? 0), 0) / sum;
  let [first, last] = [0, grid.length - 1];
  let left = weights[0] ?? 0;
  while (first < last && left < LEFT_OUT * sum) left += weights[++first] ?? 0;
  left = weights[last] ?? 0;
  while (last > first && left < LEFT_OUT * sum) left += weights[--last] ?? 0;
  const [low, high] = [grid[Math.max(0, first - 1)], grid[Math.min(grid.length - 1, last + 1)]];
  return {
    mean,
    from: (low?.at ?? 0) - (low?.forS ?? 0) / 2,
    to: (high?.at ?? 0) + (high?.forS ?? 0) / 2,
  };
}

/**
 * Mean middle and length of all ramps, each weighed by how likely it makes the data: exp(gain / 2), with each middle and
 * each length as likely as another before looking. Looked at on grids that close in.
 *
 * @param foundS middle of the ramp that was found, s
 * @param lengthsS shortest and longest, s
 * @param gainOf what the ramp of a middle and a length takes off the squares, in variances
 * @returns seconds
 *
 * Source: the posterior mean, which has the least mean square error; J. A. Hoeting et al., "Bayesian Model
 * Averaging: A Tutorial", Statistical Science 14 (1999) 382.
 */
export function weighedRamp(
  foundS: number,
  [shortestS, longestS]: readonly [number, number],
  gainOf: (middleS: number, lastsS: number) => number,
): Readonly<{ middleS: number; lastsS: number }> {
  let middles = pieces(foundS - REACH_S, foundS + REACH_S, FIRST_MIDDLES);
  let lengths = growingPieces(shortestS, longestS, FIRST_LENGTHS);
  let [middleS, lastsS] = [foundS, shortestS];
  for (let round = 0; round < ROUNDS; round++) {
    const gains = lengths.map((length) => middles.map((middle) => gainOf(middle.at, length.at)));
    const best = gains.reduce((most, row) => Math.max(most, ...row), 0);
    const byLength = lengths.map(() => 0);
    const byMiddle = middles.map(() => 0);
    gains.forEach((row, i) => {
      row.forEach((gain, k) => {
        const range = (lengths[i]?.forS ?? 0) * (middles[k]?.forS ?? 0);
        const weight = Math.exp((gain - best) / 2) * range;
        byLength[i] = (byLength[i] ?? 0) + weight;
        byMiddle[k] = (byMiddle[k] ?? 0) + weight;
      });
    });
    const [ofLength, ofMiddle] = [summary(lengths, byLength), summary(middles, byMiddle)];
    [middleS, lastsS] = [ofMiddle.mean, ofLength.mean];
    middles = pieces(ofMiddle.from, ofMiddle.to, CLOSER);
    lengths = pieces(Math.max(shortestS, ofLength.from), ofLength.to, CLOSER);
  }
  return { middleS, lastsS };
}
