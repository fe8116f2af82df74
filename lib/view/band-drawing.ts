/** A flight over the band of many runs, as geometry in a drawing of fixed size. */
import { formatNumber } from '../core/units/number-text';
import { niceTicks } from './overview/nice-ticks';

/** Columns at the same distances, in the reader's unit; `null` = no value. */
export type BandColumns = Readonly<{
  axialM: readonly number[];
  flight: readonly (number | null)[];
  p05: readonly (number | null)[];
  p50: readonly (number | null)[];
  p95: readonly (number | null)[];
  nearest: readonly (number | null)[];
  outside: readonly (readonly [fromM: number, toM: number])[];
}>;

export type DrawnTick = Readonly<{ at: number; text: string }>;

export type BandDrawing = Readonly<{
  width: number;
  height: number;
  plot: Readonly<{ left: number; right: number; top: number; bottom: number }>;
  /** Closed outlines of the band, one between places without it. */
  band: string;
  median: string;
  nearest: string;
  flight: string;
  /** Stretches outside, as rectangles over the whole height. */
  outside: readonly Readonly<{ x: number; width: number }>[];
  xTicks: readonly DrawnTick[];
  yTicks: readonly DrawnTick[];
  zeroY: number | null;
}>;

const WIDTH = 640;
const PLOT = { left: 62, right: 626, top: 10, bottom: 190 } as const;
const HEIGHT = 230;
/** Half of the way to the next place: a single place outside is still seen. */
const HALF_PLACE_M = 0.5;

type Scale = Readonly<{ x: (axialM: number) => number; y: (value: number) => number }>;

const isNumber = (value: number | null | undefined): value is number =>
  typeof value === 'number' && Number.isFinite(value);

/** Smallest and largest of everything drawn, with a little room; never no height at all. */
function extentOf(columns: BandColumns): readonly [low: number, high: number] {
  const all = [columns.flight, columns.p05, columns.p95, columns.nearest].flat().filter(isNumber);
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
  axialM: readonly number[],
  values: readonly (number | null)[],
  { x, y }: Scale,
): string {
  let path = '';
  let isDown = false;
  for (const [place, value] of values.entries()) {
    const atM = axialM[place];
    // Metres that were not passed are not in the list: the line does not run across them.
    if (place > 0 && atM !== undefined && atM - (axialM[place - 1] ?? atM) > 1) isDown = false;
    if (!isNumber(value) || atM === undefined) {
      isDown = false;
      continue;
    }
    path += `${isDown ? 'L' : 'M'}${x(atM).toFixed(1)} ${y(value).toFixed(1)}`;
    isDown = true;
  }
  return path;
}

/** The band between two columns: out along the one, back along the other. */
function bandPath(columns: BandColumns, { x, y }: Scale): string {
  const { axialM, p05, p95 } = columns;
  let path = '';
  let places: number[] = [];
  const point = (place: number, values: readonly (number | null)[]): string =>
    `${x(axialM[place] ?? 0).toFixed(1)} ${y(values[place] ?? 0).toFixed(1)}`;
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
  axialM.forEach((_, place) => {
    if (place > 0 && (axialM[place] ?? 0) - (axialM[place - 1] ?? 0) > 1) close();
    if (isNumber(p05[place]) && isNumber(p95[place])) places.push(place);
    else close();
  });
  close();
  return path;
}

/**
 * Distances run to the port at the right, as the approach does.
 *
 * @returns null where the flight has no value anywhere
 */
export function bandDrawing(columns: BandColumns): BandDrawing | null {
  const { axialM } = columns;
  const [nearM] = axialM;
  const farM = axialM.at(-1);
  if (nearM === undefined || farM === undefined || !columns.flight.some(isNumber)) return null;
  const [low, high] = extentOf(columns);
  const toM = Math.max(0, nearM - 1);
  const fromM = Math.max(farM + HALF_PLACE_M, toM + 1);
  const x = (atM: number): number =>
    PLOT.right - ((atM - toM) / (fromM - toM)) * (PLOT.right - PLOT.left);
  const y = (value: number): number =>
    PLOT.bottom - ((value - low) / (high - low)) * (PLOT.bottom - PLOT.top);
  const scale = { x, y };
  const ticks = niceTicks(low, high, 5);
  const [first = 0, second = high] = ticks;
  const step = second - first;
  const decimals = Math.min(4, Math.max(0, Math.ceil(-Math.log10(step) - 1e-9)));
  return {
    width: WIDTH,
    height: HEIGHT,
    plot: PLOT,
    band: bandPath(columns, scale),
    median: linePath(axialM, columns.p50, scale),
    nearest: linePath(axialM, columns.nearest, scale),
    flight: linePath(axialM, columns.flight, scale),
    outside: columns.outside.map(([from, to]) => {
      const left = x(Math.min(fromM, from + HALF_PLACE_M));
      return { x: left, width: x(Math.max(toM, to - HALF_PLACE_M)) - left };
    }),
    xTicks: niceTicks(toM, fromM, 6).map((atM) => ({ at: x(atM), text: formatNumber(atM, 0) })),
    yTicks: ticks.map((value) => ({ at: y(value), text: formatNumber(value, decimals) })),
    zeroY: low < 0 && high > 0 ? y(0) : null,
  };
}
