/** Distance as the axis: where an instant is drawn when the strips run over how far out the vehicle was. */
import type { PlotTick } from '../../core/debrief/plot';
import { linearTicks } from '../../core/debrief/plot-axis';
import { type TimeWindow, windowSpanS } from './time-window';

/**
 * A way to draw the instants of a window: `place` says at which instant of an even axis one stands,
 * `instant` the other way round. Both ends of the window stay where they are.
 */
export type AxisWarp = Readonly<{
  place: (tS: number) => number;
  instant: (placeS: number) => number;
  ticks: (count: number) => readonly PlotTick[];
}>;

/** A pass that comes nearer or goes away by less than this is a hold: its distances are noise. Our own choice. */
const LEAST_WAY_M = 0.5;
/** Share of the axis that follows time, so that a hold keeps a sliver and every place has one instant. */
const TIME_SHARE = 0.02;

type Ranges = Readonly<{ tS: readonly number[]; rangeM: readonly number[] }>;

/** The farthest reached up to each instant in one direction, m times `sign`: only new ground moves it. */
function reached({ tS, rangeM }: Ranges, { fromS, toS }: TimeWindow, sign: 1 | -1) {
  const atS: number[] = [];
  const leastM: number[] = [];
  let least = Number.POSITIVE_INFINITY;
  tS.forEach((at, index) => {
    const outM = sign * (rangeM[index] ?? Number.NaN);
    if (Number.isNaN(outM) || at < fromS || at > toS) return;
    least = Math.min(least, outM);
    atS.push(at);
    leastM.push(least);
  });
  const firstM = leastM[0] ?? Number.NaN;
  const lastM = leastM.at(-1) ?? Number.NaN;
  return { sign, atS, leastM, firstM, lastM, wayM: firstM - lastM };
}

/**
 * The axis of distance over a window: equal lengths are equal distances closed, or equal distances opened
 * where the vehicle rather went away.
 *
 * An instant stands at the least range reached up to it (the greatest, outwards), so that only new ground
 * moves it on: a hold, and a way back until it has been made up for, take the sliver of their time.
 *
 * @param range range at instants in ascending order
 * @returns null where the window covers less than half a metre either way: it then has no axis of distance
 */
export function distanceWarp(range: Ranges, window: TimeWindow): AxisWarp | null {
  const inwards = reached(range, window, 1);
  const outwards = reached(range, window, -1);
  const { sign, atS, leastM, firstM, lastM, wayM } =
    outwards.wayM > inwards.wayM ? outwards : inwards;
  if (!(wayM >= LEAST_WAY_M)) return null;
  const spanS = windowSpanS(window);
  const placeOf = (at: number, outM: number): number =>
    window.fromS +
    spanS * (1 - TIME_SHARE) * ((firstM - outM) / wayM) +
    TIME_SHARE * (at - window.fromS);
  const knots = {
    tS: [window.fromS, ...atS, window.toS],
    placeS: [
      placeOf(window.fromS, firstM),
      ...atS.map((at, index) => placeOf(at, leastM[index] ?? lastM)),
      placeOf(window.toS, lastM),
    ],
    leastM: [firstM, ...leastM, lastM],
  };
  const [nearM, farM] = sign === 1 ? [lastM, firstM] : [-firstM, -lastM];
  return {
    place: (at) => along(knots.tS, knots.placeS, at),
    instant: (at) => along(knots.placeS, knots.tS, at),
    ticks: (count) =>
      linearTicks(nearM, farM, count)
        .map(({ at, text }) => {
          const placeS = along(descending(knots.leastM), knots.placeS, -sign * at);
          return { at: placeS, text: `${text} m` };
        })
        .sort((a, b) => a.at - b.at),
  };
}

function descending(values: readonly number[]): readonly number[] {
  return values.map((value) => -value);
}

/** Linear between knots, the ends carried on with slope one. @param from ascending, repeats allowed */
function along(from: readonly number[], to: readonly number[], at: number): number {
  const last = from.length - 1;
  const first = from[0] ?? 0;
  const end = from[last] ?? 0;
  if (at <= first) return (to[0] ?? 0) + (at - first);
  if (at >= end) return (to[last] ?? 0) + (at - end);
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >>> 1;
    if ((from[middle] ?? 0) <= at) low = middle;
    else high = middle;
  }
  const left = from[low] ?? 0;
  const right = from[high] ?? 0;
  const share = right > left ? (at - left) / (right - left) : 0;
  return (to[low] ?? 0) + share * ((to[high] ?? 0) - (to[low] ?? 0));
}
