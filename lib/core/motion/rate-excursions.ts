/** Short excursions of the rate that positions show although no velocity is measured. */
import type { Samples } from '../series/samples';
import {
  dot,
  type PositionBins,
  positionBins,
  type WhitenedWindow,
  whitenedWindow,
} from '../series/whitened-window';
import { LONGEST_EXCURSION_S } from './excursion-fits';
import { weighedTogether } from './excursion-kinds';
import {
  type ExcursionPosterior,
  excursionPosterior,
  rateSpreadMps,
  roughExcursion,
  typicalShape,
} from './excursion-posterior';
import {
  type ExcursionShape,
  excursionEndS,
  excursionRateMps,
  excursionWayM,
  rampWayFromMiddleM,
} from './excursion-shape';
import { type RateCourses, shapeCourses } from './rate-courses';
import type { RowSpan } from './row-span';

/** An excursion, and the root mean square of what it may differ from the shape given, over time. */
export type RateExcursion = Readonly<{
  shape: ExcursionShape;
  fromS: number;
  stepS: number;
  sdMps: Float64Array;
  /** What the rate may have been in place of the shape. */
  courses: RateCourses;
}>;

/** The background is straight over this long on either side of an excursion, s. */
const BESIDE_S = 20;
const REACH_S = LONGEST_EXCURSION_S / 2 + BESIDE_S;
/** Samples are averaged to these steps: to look for excursions, and to look at one, s. */
const COARSE_S = 0.5;
const FINE_S = 0.25;
const GRID_S = 2;
/** Lengths looked for, s, those of a group in a window `BESIDE_S` beyond the ends of its longest. */
const LENGTHS_S = [
  [2, 4, 8],
  [14, 22],
] as const;
/** Lengths of the ramps an excursion is held against, s. */
const RAMPS_S = [0.3, 2, 5, 10, 16, 24, 34, 46] as const;
/**
 * An excursion has to take this much more off the squares than any ramp, in variances of one datum. For three
 * more unknowns and some 300 data the Bayesian information criterion asks for 17.
 */
const LEAST_GAIN = 25;
/** What is left over has to be noise: at most this many variances a datum. */
const MOST_LEFT = 1.7;
/** A change of rate that stays and is more than this share of the height is a manoeuvre. */
const MOST_NET = 0.5;
const FEWEST = 10;
const SPREAD_STEP_S = 0.2;

/** What the best single ramp takes off, anywhere in a window. */
function rampGain(window: WhitenedWindow): number {
  const at = (middleS: number, lastsS: number): number => {
    const column = window.columnOf((whenS) => rampWayFromMiddleM(lastsS, whenS - middleS));
    return dot(column, window.data) ** 2 / dot(column, column);
  };
  let best = { middleS: 0, lastsS: 1, gain: 0 };
  const take = (middleS: number, lastsS: number): void => {
    const gain = at(middleS, lastsS);
    if (gain > best.gain) best = { middleS, lastsS, gain };
  };
  const reachS = LONGEST_EXCURSION_S / 2 + 4;
  for (const lastsS of RAMPS_S) {
    for (let middleS = -reachS; middleS <= reachS; middleS += 1) take(middleS, lastsS);
  }
  for (const stepS of [0.5, 0.2, 0.1]) {
    const { middleS, lastsS } = best;
    for (let i = -2; i <= 2; i++) {
      for (let k = -2; k <= 2; k++) take(middleS + i * stepS, lastsS * (1 + (k * stepS) / 3));
    }
  }
  return best.gain;
}

/** What an excursion centred in a window takes off beyond a ramp there, for the best of some lengths. */
function roughGain(bins: PositionBins, atS: number): number {
  let best = 0;
  for (const lengthsS of LENGTHS_S) {
    const reachS = BESIDE_S + (lengthsS.at(-1) ?? 0) / 2;
    const window = whitenedWindow(bins, atS, { reachS, fewest: FEWEST });
    if (window === null || window.left < LEAST_GAIN / 2) continue;
    for (const lastsS of lengthsS) {
      const halfS = lastsS / 2;
      const flat = window.columnOf(
        (whenS) => rampWayFromMiddleM(0, whenS + halfS) - rampWayFromMiddleM(0, whenS - halfS),
      );
      const ramp = window.columnOf((whenS) => rampWayFromMiddleM(lastsS, whenS));
      const [ff, rr, fr] = [dot(flat, flat), dot(ramp, ramp), dot(flat, ramp)];
      const [f, r] = [dot(flat, window.data), dot(ramp, window.data)];
      const own = ff - (fr * fr) / rr;
      if (own > 1e-9 * ff) best = Math.max(best, (f - (fr / rr) * r) ** 2 / own);
    }
  }
  return best;
}

function roughPlaces(bins: PositionBins): { atS: number; gain: number }[] {
  const out: { atS: number; gain: number }[] = [];
  const lastS = bins.tS[bins.tS.length - 1] ?? 0;
  for (let atS = (bins.tS[0] ?? 0) + 3; atS <= lastS - 3; atS += GRID_S) {
    const gain = roughGain(bins, atS);
    if (gain > LEAST_GAIN / 2) out.push({ atS, gain });
  }
  return out;
}

/** What stands out near an instant. */
type Settled = Readonly<{ atS: number; posterior: ExcursionPosterior; shape: ExcursionShape }>;

/** Looks closely at an instant; `null` where no excursion stands out there. */
function settle(bins: PositionBins, atS: number, holdRateMps: number): Settled | null {
  const window = whitenedWindow(bins, atS, { reachS: REACH_S, fewest: FEWEST });
  if (window === null) return null;
  const rough = roughExcursion(window, holdRateMps);
  if (rough === null || Math.abs(rough.heightMps) < holdRateMps / 2) return null;
  const ramp = rampGain(window);
  if (rough.gain - ramp < LEAST_GAIN / 2) return null;
  const posterior = excursionPosterior(window, holdRateMps);
  if (posterior === null || posterior.unit > MOST_LEFT) return null;
  const { best, unit } = posterior;
  if (!((best.gain - ramp) / unit > LEAST_GAIN)) return null;
  if (Math.abs(best.netMps) > MOST_NET * Math.abs(best.heightMps)) return null;
  const shape = typicalShape(posterior, atS);
  if (Math.abs(shape.heightMps) < holdRateMps) return null;
  return { atS, posterior, shape };
}

/** One shape for all, and what they differ from it by. */
function described(atS: number, posterior: ExcursionPosterior): RateExcursion {
  const shape = typicalShape(posterior, atS);
  let [fromS, toS] = [shape.atS, excursionEndS(shape)];
  for (const { up, down } of posterior.members) {
    fromS = Math.min(fromS, atS + up.middleS - up.lastsS / 2);
    toS = Math.max(toS, atS + down.middleS + down.lastsS / 2);
  }
  const count = Math.ceil((toS - fromS) / SPREAD_STEP_S) + 2;
  const sdMps = Float64Array.from({ length: count }, (_, k) => {
    const whenS = fromS + k * SPREAD_STEP_S;
    return rateSpreadMps(posterior, whenS - atS, excursionRateMps(shape, whenS));
  });
  const over = { fromS, stepS: SPREAD_STEP_S, count };
  const courses = shapeCourses(posterior, atS, shape, over);
  return { shape, fromS, stepS: SPREAD_STEP_S, sdMps, courses };
}

/** Standard deviation of the rate that an excursion adds at a time, m/s; 0 away from it. */
export function excursionSdMps({ fromS, stepS, sdMps }: RateExcursion, atS: number): number {
  const place = (atS - fromS) / stepS;
  if (!(place >= 0) || place >= sdMps.length - 1) return 0;
  const k = Math.floor(place);
  return (sdMps[k] ?? 0) + (place - k) * ((sdMps[k + 1] ?? 0) - (sdMps[k] ?? 0));
}

/**
 * Finds excursions of the rate in a position: it rises, stays and falls back within half a minute, at once or
 * along straight lines, as a jet and the control after it make. Over 20 s beyond its ends the position is
 * held against a straight line, one with a ramp to another rate, and one with an excursion of any shape;
 * the excursion has to explain it much better than any ramp, and to leave little but noise. Shapes that explain
 * it about as well are weighed, none is chosen.
 *
 * @param position the position's updates
 * @param spans stretches without a gap, as index ranges of the updates
 * @param holdRateMps excursions smaller than the plan's hold rate are left to smoothing
 * @returns ascending; their shapes do not overlap
 */
export function findRateExcursions(
  position: Samples,
  spans: readonly RowSpan[],
  holdRateMps: number,
): readonly RateExcursion[] {
  const found: Settled[] = [];
  for (const span of spans) {
    if (span.to - span.from < 4 * FEWEST) continue;
    const fine = positionBins(position, span, FINE_S);
    const taken: (readonly [number, number])[] = [];
    const rough = roughPlaces(positionBins(position, span, COARSE_S));
    for (const { atS } of rough.sort((a, b) => b.gain - a.gain)) {
      if (taken.some(([fromS, toS]) => fromS < atS && atS < toS)) continue;
      const settled = settle(fine, atS, holdRateMps);
      if (settled === null) {
        taken.push([atS - 5, atS + 5]);
        continue;
      }
      const { shape } = settled;
      taken.push([shape.atS - BESIDE_S / 2, excursionEndS(shape) + BESIDE_S / 2]);
      found.push(settled);
      for (let k = 0; k < fine.tS.length; k++) {
        fine.values[k] = (fine.values[k] ?? 0) - excursionWayM(shape, fine.tS[k] ?? 0);
      }
    }
  }
  return weighedTogether(found.map(({ posterior }) => posterior))
    .map((posterior, k) => described(found[k]?.atS ?? Number.NaN, posterior))
    .sort((a, b) => a.shape.atS - b.shape.atS);
}
