/** Stretches in which a channel, or its rate of change, lies beyond a value for some time. */
import { GAP_STEPS } from './faults';

export type SeekCondition = Readonly<{
  /** The channel itself, or how fast it changes. */
  of: 'value' | 'rate';
  sense: 'above' | 'below';
  /** In the unit of the channel, per second for a rate. */
  limit: number;
  /** Shorter stretches are not told, s. */
  leastS: number;
}>;

/** `worst` is the value farthest beyond the limit, at `worstS`. */
export type SoughtStretch = Readonly<{
  fromS: number;
  toS: number;
  worst: number;
  worstS: number;
}>;

/** Half of the span over which a rate is taken, s: the definitions smooth velocity over 2 s at most. */
export const RATE_REACH_S = 1;

type Samples = Readonly<{ tS: Float64Array; values: Float64Array }>;

export type StretchSeeker = Readonly<{
  /** The next samples, ascending after those before. */
  feed: (samples: Samples) => void;
  /** No more samples: every stretch found, in time order. */
  finish: () => readonly SoughtStretch[];
}>;

/**
 * Looks for stretches in samples that come piece by piece, so that no long channel has to be held.
 *
 * A stretch begins and ends where the straight line between two samples crosses the limit. A gap ends it
 * at the last sample before. An absent sample is none: a slow channel in fast rows has many of them.
 *
 * @param stepS usual time between two samples; longer than five of them is a gap; null = none is
 *
 * Valid: linear between samples. Of a rate give `slopes` of the samples in place of their values.
 */
export function seekStretches(condition: SeekCondition, stepS: number | null): StretchSeeker {
  const { sense, limit, leastS } = condition;
  const gapS = stepS === null ? Number.POSITIVE_INFINITY : GAP_STEPS * stepS;
  const beyondBy = (value: number): number => (sense === 'above' ? value - limit : limit - value);
  const found: SoughtStretch[] = [];
  let open: { fromS: number; worst: number; worstS: number } | null = null;
  let beforeS = Number.NaN;
  let before = Number.NaN;

  const close = (toS: number): void => {
    if (open !== null && toS - open.fromS >= leastS) found.push({ ...open, toS });
    open = null;
  };
  const crossing = (tS: number, value: number): number => {
    const share = beyondBy(before) / (beyondBy(before) - beyondBy(value));
    return beforeS + share * (tS - beforeS);
  };
  const take = (tS: number, value: number): void => {
    const isJoined = tS - beforeS <= gapS;
    if (!isJoined) close(beforeS);
    if (beyondBy(value) > 0) {
      open ??= {
        fromS: isJoined && beyondBy(before) <= 0 ? crossing(tS, value) : tS,
        worst: value,
        worstS: tS,
      };
      if (beyondBy(value) > beyondBy(open.worst)) open = { ...open, worst: value, worstS: tS };
    } else if (open !== null) close(crossing(tS, value));
    beforeS = tS;
    before = value;
  };
  return {
    feed: ({ tS, values }) => {
      for (let index = 0; index < tS.length; index += 1) {
        const value = values[index] ?? Number.NaN;
        if (!Number.isNaN(value)) take(tS[index] ?? Number.NaN, value);
      }
    },
    finish: () => {
      close(beforeS);
      return found;
    },
  };
}

/**
 * Slope of the straight line of least squares through the samples within a second on both sides.
 *
 * @returns unit of the values per second, one a sample; NaN where fewer than three samples lie there
 *
 * Source: elementary; slope = (n Σxy − Σx Σy) / (n Σx² − (Σx)²), x counted from the sample itself.
 */
export function slopes({ tS, values }: Samples): Float64Array {
  const out = new Float64Array(tS.length).fill(Number.NaN);
  let first = 0;
  let next = 0;
  const window: number[] = [];
  for (let index = 0; index < tS.length; index += 1) {
    const atS = tS[index]!;
    for (; next < tS.length && tS[next]! <= atS + RATE_REACH_S; next += 1)
      if (!Number.isNaN(values[next]!)) window.push(next);
    while (first < window.length && tS[window[first]!]! < atS - RATE_REACH_S) first += 1;
    if (first > 4096) {
      window.splice(0, first);
      first = 0;
    }
    if (!Number.isNaN(values[index]!))
      out[index] = slopeThrough(atS, { tS, values }, window, first);
  }
  return out;
}

/**
 * Slope of the straight line of least squares through some samples.
 *
 * @param atS the instant that times are counted from, so that no digits are lost
 * @param rows the samples to take, from the `first`th of the list on
 * @returns unit of the values per second; NaN for fewer than three samples or none apart in time
 *
 * Source: elementary, as `slopes`.
 */
export function slopeThrough(
  atS: number,
  { tS, values }: Samples,
  window: readonly number[],
  first: number,
): number {
  const count = window.length - first;
  if (count < 3) return Number.NaN;
  let x = 0;
  let y = 0;
  let xx = 0;
  let xy = 0;
  for (let at = first; at < window.length; at += 1) {
    const row = window[at]!;
    const dt = tS[row]! - atS;
    const value = values[row]!;
    x += dt;
    y += value;
    xx += dt * dt;
    xy += dt * value;
  }
  const spread = count * xx - x * x;
  return spread > 0 ? (count * xy - x * y) / spread : Number.NaN;
}
