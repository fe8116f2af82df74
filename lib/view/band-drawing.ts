/** A flight over the band of many runs, as geometry in a drawing of fixed size. */
import { formatNumber } from '../core/units/number-text';
import { niceTicks } from './overview/nice-ticks';

/** Columns at the same places, in the reader's unit; `null` = no value. Places are m from the port, or s. */
export type BandColumns = Readonly<{
  places: readonly number[];
  unit: 'm' | 's';
  flight: readonly (number | null)[];
  p05: readonly (number | null)[];
  p50: readonly (number | null)[];
  p95: readonly (number | null)[];
  opened: readonly (number | null)[];
  outside: readonly (readonly [from: number, to: number])[];
}>;

export type DrawnTick = Readonly<{ at: number; text: string }>;

export type Residual = Readonly<{
  path: string;
  top: number;
  bottom: number;
  zeroY: number;
  yTicks: readonly DrawnTick[];
}>;

export type BandDrawing = Readonly<{
  width: number;
  height: number;
  plot: Readonly<{ left: number; right: number; top: number; bottom: number }>;
  /** Closed outlines of the band, one between places without it. */
  band: string;
  median: string;
  opened: string;
  flight: string;
  /** Flight minus the opened run, beneath on a scale of its own; null without an opened run. */
  residual: Residual | null;
  /** Stretches outside, as rectangles over the whole height. */
  outside: readonly Readonly<{ x: number; width: number }>[];
  xTicks: readonly DrawnTick[];
  yTicks: readonly DrawnTick[];
  zeroY: number | null;
}>;

const WIDTH = 640;
const PLOT = { left: 62, right: 626, top: 10, bottom: 190 } as const;
const RESIDUAL = { top: 206, bottom: 274 } as const;
const FOOT = 40;

type Scale = Readonly<{
  x: (place: number) => number;
  y: (value: number) => number;
  /** Ordinary way from a place to the next. */
  step: number;
}>;

const isNumber = (value: number | null | undefined): value is number =>
  typeof value === 'number' && Number.isFinite(value);

/** Smallest and largest of everything drawn, with a little room; never no height at all. */
function extentOf(columns: BandColumns): readonly [low: number, high: number] {
  const all = [columns.flight, columns.p05, columns.p95, columns.opened].flat().filter(isNumber);
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const value of all) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  if (!(low <= high)) return [0, 1];
  const room = high > low ? 0.08 * (high - low) : Math.max(Math.abs(high), 1) * 0.1;
  return [low - room, high + room];
}

function linePath(
  places: readonly number[],
  values: readonly (number | null)[],
  { x, y, step }: Scale,
): string {
  let path = '';
  let isDown = false;
  for (const [index, value] of values.entries()) {
    const at = places[index];
    // Places that were not passed are not in the list: the line does not run across them.
    if (index > 0 && at !== undefined && isApart(places, index, step)) isDown = false;
    if (!isNumber(value) || at === undefined) {
      isDown = false;
      continue;
    }
    path += `${isDown ? 'L' : 'M'}${x(at).toFixed(1)} ${y(value).toFixed(1)}`;
    isDown = true;
  }
  return path;
}

function isApart(places: readonly number[], index: number, step: number): boolean {
  return (places[index] ?? 0) - (places[index - 1] ?? 0) > 1.5 * step;
}

function stepOf(places: readonly number[]): number {
  let step = Number.POSITIVE_INFINITY;
  for (let k = 1; k < places.length; k++)
    step = Math.min(step, (places[k] ?? 0) - (places[k - 1] ?? 0));
  return Number.isFinite(step) ? step : 1;
}

/** The band between two columns: out along the one, back along the other. */
function bandPath(columns: BandColumns, { x, y, step }: Scale): string {
  const { places: all, p05, p95 } = columns;
  let path = '';
  let places: number[] = [];
  const point = (place: number, values: readonly (number | null)[]): string =>
    `${x(all[place] ?? 0).toFixed(1)} ${y(values[place] ?? 0).toFixed(1)}`;
  const close = (): void => {
    if (places.length > 0) {
      const there = places.map((place) => point(place, p95)).join('L');
      const back = places
        .toReversed()
        .map((place) => point(place, p05))
        .join('L');
      path += `M${there}L${back}Z`;
    }
    places = [];
  };
  all.forEach((_, place) => {
    if (place > 0 && isApart(all, place, step)) close();
    if (isNumber(p05[place]) && isNumber(p95[place])) places.push(place);
    else close();
  });
  close();
  return path;
}

/** Flight minus the opened run, about zero. */
function residualOf(columns: BandColumns, { x, step }: Scale): Residual | null {
  const { places, flight, opened } = columns;
  const values = flight.map((value, place) => {
    const other = opened[place];
    return isNumber(value) && isNumber(other) ? value - other : null;
  });
  const size = values.reduce<number>((most, value) => Math.max(most, Math.abs(value ?? 0)), 0);
  if (!values.some(isNumber)) return null;
  const { top, bottom } = RESIDUAL;
  const reach = size === 0 ? 1 : 1.1 * size;
  const y = (value: number): number => (top + bottom) / 2 - (value / reach) * ((bottom - top) / 2);
  return {
    path: linePath(places, values, { x, y, step }),
    top,
    bottom,
    zeroY: y(0),
    yTicks: ticksOf(-reach, reach, { y, count: 3 }),
  };
}

function ticksOf(
  low: number,
  high: number,
  { y, count }: Readonly<{ y: (value: number) => number; count: number }>,
): readonly DrawnTick[] {
  const ticks = niceTicks(low, high, count);
  const [first = 0, second = high] = ticks;
  const decimals = Math.min(5, Math.max(0, Math.ceil(-Math.log10(second - first) - 1e-9)));
  return ticks.map((value) => ({ at: y(value), text: formatNumber(value, decimals) }));
}

/** Distances run to the port at the right, as the approach does; times run to the right. */
function scaleX({ places, unit }: BandColumns, step: number) {
  const first = places[0] ?? 0;
  const last = places.at(-1) ?? first;
  const low = unit === 'm' ? Math.max(0, first - step) : first;
  const high = Math.max(last + (unit === 'm' ? step / 2 : 0), low + step);
  const width = PLOT.right - PLOT.left;
  const share = (at: number): number => (at - low) / (high - low);
  const x = (at: number): number =>
    unit === 'm' ? PLOT.right - share(at) * width : PLOT.left + share(at) * width;
  return { x, low, high };
}

/** @returns null where the flight has no value anywhere */
export function bandDrawing(columns: BandColumns): BandDrawing | null {
  const { places, unit } = columns;
  if (places.length === 0 || !columns.flight.some(isNumber)) return null;
  const [low, high] = extentOf(columns);
  const step = stepOf(places);
  const { x, low: from, high: to } = scaleX(columns, step);
  const y = (value: number): number =>
    PLOT.bottom - ((value - low) / (high - low)) * (PLOT.bottom - PLOT.top);
  const scale = { x, y, step };
  const residual = residualOf(columns, scale);
  const inside = (at: number): number => Math.min(to, Math.max(from, at));
  const ticks = niceTicks(from, to, 6);
  const decimals = unit === 's' && (ticks[1] ?? 1) - (ticks[0] ?? 0) < 1 ? 1 : 0;
  return {
    width: WIDTH,
    height: (residual?.bottom ?? PLOT.bottom) + FOOT,
    plot: PLOT,
    band: bandPath(columns, scale),
    median: linePath(places, columns.p50, scale),
    opened: linePath(places, columns.opened, scale),
    flight: linePath(places, columns.flight, scale),
    residual,
    outside: columns.outside.map(([one, other]) => {
      // Half of the way to the next place on both sides: a single place outside is still seen.
      const a = x(inside(Math.min(one, other) - step / 2));
      const b = x(inside(Math.max(one, other) + step / 2));
      return { x: Math.min(a, b), width: Math.abs(b - a) };
    }),
    xTicks: ticks.map((at) => ({ at: x(at), text: formatNumber(at, decimals) })),
    yTicks: ticksOf(low, high, { y, count: 5 }),
    zeroY: low < 0 && high > 0 ? y(0) : null,
  };
}
