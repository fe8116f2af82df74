/** Excursions of a rate that noise on its positions may hide, weighed by what the positions say. */
import {
  dot,
  type PositionBins,
  type WhitenedWindow,
  whitenedWindow,
} from '../series/whitened-window';
import { rampWayFromMiddleM } from './excursion-shape';

/** One kind of excursion, at any time: it lasts so long at a height of either sign. */
export type HiddenExcursion = Readonly<{ weight: number; heightMps: number; lastsS: number }>;

/** Weights add up to 1. */
export type HiddenExcursions = Readonly<{ none: number; some: readonly HiddenExcursion[] }>;

/** How likely one is before looking, as likely as not; with any length, height and sign as likely as another. */
const BEFORE = 0.5;
/** Lengths looked for, s; each stands for those round it. */
const LENGTHS_S = [2, 4, 8, 14, 22] as const;
/** The positions are straight over this long on either side of the longest; shorter ones are held against the same data. */
const REACH_S = 20 + 22 / 2;
const GRID_S = 2;
/** The first and the last place looked at are so far inside, s. */
const INSIDE_S = 3;
const FEWEST = 5;
/** Heights looked at: a fiftieth of the planned rate to twice it, their logarithms spaced evenly. */
const SHARES = Array.from({ length: 24 }, (_, k) => 0.02 * 100 ** ((k + 0.5) / 24));
/** Squares left over a datum of which more than this are no noise: the rate changes there, and its lines show it. */
const MOST_LEFT = 1.7;

/** Height of an excursion of a length somewhere, by least squares, and its standard deviation, m/s. */
type HeightFit = Readonly<{ lastsS: number; heightMps: number; sdMps: number }>;

/** Product of two columns once the part along a third is taken out of both. */
function productBeside(a: Float64Array, b: Float64Array, out: Float64Array): number {
  return dot(a, b) - (dot(a, out) * dot(b, out)) / dot(out, out);
}

/** Fits to one window, beside a parabola: a rate that drifts is none of them. */
function windowFits(window: WhitenedWindow): readonly HeightFit[] {
  const bend = window.columnOf((atS) => atS * atS);
  const fits = LENGTHS_S.map((lastsS) => {
    const halfS = lastsS / 2;
    const column = window.columnOf(
      (atS) => rampWayFromMiddleM(0, atS + halfS) - rampWayFromMiddleM(0, atS - halfS),
    );
    const own = productBeside(column, column, bend);
    const heightMps = productBeside(column, window.data, bend) / own;
    return { lastsS, heightMps, sdMps: 1 / Math.sqrt(own) };
  });
  const explained = Math.max(...fits.map((fit) => (fit.heightMps / fit.sdMps) ** 2));
  const left = productBeside(window.data, window.data, bend) - explained;
  const unit = Math.max(1, left / Math.max(1, window.data.length - 4));
  if (!(unit <= MOST_LEFT)) return [];
  return fits.map((fit) => ({ ...fit, sdMps: Math.sqrt(unit) * fit.sdMps }));
}

function fitsAlong(bins: PositionBins): readonly HeightFit[] {
  const fits: HeightFit[] = [];
  const lastS = (bins.tS.at(-1) ?? 0) - INSIDE_S;
  for (let atS = (bins.tS[0] ?? 0) + INSIDE_S; atS <= lastS; atS += GRID_S) {
    const window = whitenedWindow(bins, atS, { reachS: REACH_S, fewest: FEWEST });
    if (window !== null) fits.push(...windowFits(window));
  }
  return fits;
}

/**
 * Weighs what one short excursion of the rate, flat for some seconds, may be hidden in positions that run straight but for noise.
 * Before looking there is one as likely as not, at any time, of 2 to 22 s and a fiftieth of the planned rate to twice
 * it, lengths and heights by their logarithms. Positions that fit a straight course make those unlikely that would have left their
 * way behind, the more the higher and longer; a bend that noise alone would hardly make keeps its own likely.
 *
 * @param stretches positions of the stretches it may lie in, without motion but a nearly steady rate
 * @param plannedMps size of the planned rate, over 0
 * @returns heights in the positions' sign; none is left out of one that cannot be looked at
 *
 * Valid: noise as told, its likelihood that of the whitened positions; at most one.
 * Source: Bayes' theorem; the likelihood ratio of a linear model with known noise.
 */
export function hiddenExcursions(
  stretches: readonly PositionBins[],
  plannedMps: number,
): HiddenExcursions {
  const fits = stretches.flatMap(fitsAlong);
  const most = fits.reduce((gain, one) => Math.max(gain, (one.heightMps / one.sdMps) ** 2 / 2), 0);
  const each = BEFORE / (1 - BEFORE) / Math.max(1, fits.length) / (2 * SHARES.length);
  const weights = new Map<number, Float64Array>();
  for (const { lastsS, heightMps, sdMps } of fits) {
    const own = weights.get(lastsS) ?? new Float64Array(2 * SHARES.length);
    weights.set(lastsS, own);
    for (let k = 0; k < own.length; k++) {
      const h = signedHeight(k, plannedMps);
      const gain = (h * (2 * heightMps - h)) / (2 * sdMps * sdMps);
      own[k] = (own[k] ?? 0) + each * Math.exp(gain - most);
    }
  }
  let sum = Math.exp(-most);
  const none = sum;
  for (const own of weights.values()) for (const weight of own) sum += weight;
  const some = [...weights].flatMap(([lastsS, own]) =>
    Array.from(own, (weight, k) => ({
      ...{ weight: weight / sum, lastsS },
      heightMps: signedHeight(k, plannedMps),
    })),
  );
  return { none: none / sum, some };
}

/** The k-th height: first those over none, then those under it. */
function signedHeight(k: number, plannedMps: number): number {
  const count = SHARES.length;
  return plannedMps * (k < count ? (SHARES[k] ?? 0) : -(SHARES[k - count] ?? 0));
}
