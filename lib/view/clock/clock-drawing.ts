/** Log and telemetry side by side, as geometry in a drawing of fixed size. */
import { timeTicks } from '../../core/debrief/plot-axis';
import { formatNumber } from '../../core/units/number-text';
import { niceTicks } from '../overview/nice-ticks';
import type { ClockItem } from './clock-items';
import { type MarkShape, markPath, px, SHAPE_WORDS, shapeOf } from './mark-shape';
import { type Box, type DrawnTick, type ResidualStrip, residualStrip } from './residual-strip';

/** Smallest and largest estimated range in each part of the session; NaN where there is none. */
export type RangeEnvelope = Readonly<{
  tS: Float64Array;
  leastM: Float64Array;
  mostM: Float64Array;
}>;

/** `before` is null where the source's own time lies outside the drawing. */
export type DrawnMark = Readonly<{
  key: string;
  shape: MarkShape;
  before: string | null;
  after: string;
  way: string | null;
  title: string;
}>;

export type ClockDrawing = Readonly<{
  width: number;
  height: number;
  plot: Box;
  line: string;
  marks: readonly DrawnMark[];
  xTicks: readonly DrawnTick[];
  yTicks: readonly DrawnTick[];
  strips: readonly ResidualStrip[];
  legend: readonly Readonly<{
    shape: MarkShape;
    path: Readonly<{ before: string; after: string }>;
    text: string;
  }>[];
  note: string;
}>;

const WIDTH = 960;
const LEFT = 58;
const RIGHT = 948;
const PLOT: Box = { left: LEFT, right: RIGHT, top: 24, bottom: 264 };
const STRIP_TOPS = [318, 424] as const;
const STRIP_HEIGHT = 74;
const FOOT = 24;
const X_TICKS = 9;
/** Marks before are drawn where they widen the time axis by no more than this part. */
const MOST_WIDENING = 0.4;

export type DrawingInput = Readonly<{
  items: readonly ClockItem[];
  range: RangeEnvelope;
  /** Mean time from a moment to the words about it, s. */
  lagS: number;
}>;

/** @returns null where no range was estimated */
export function clockDrawing({ items, range, lagS }: DrawingInput): ClockDrawing | null {
  const rows = [...range.mostM.keys()].filter((row) => Number.isFinite(range.mostM[row]));
  const [first, last] = [range.tS[rows[0] ?? -1], range.tS[rows[rows.length - 1] ?? -1]];
  if (first === undefined || last === undefined || !(last > first)) return null;
  const placed = items.flatMap((item) => placeItem(item, range, lagS));
  const window = timeWindow(placed, { fromS: first, toS: last });
  const topM =
    Math.max(
      1,
      ...placed.map(({ rangeM }) => rangeM),
      ...rows.map((row) => range.mostM[row] ?? 0),
    ) * 1.06;
  const x = (tS: number) =>
    LEFT + ((tS - window.fromS) / (window.toS - window.fromS)) * (RIGHT - LEFT);
  const y = (m: number) => PLOT.bottom - (m / topM) * (PLOT.bottom - PLOT.top);
  const shapes = [...new Set(placed.map(({ shape }) => shape))];
  return {
    width: WIDTH,
    height: STRIP_TOPS[1] + STRIP_HEIGHT + FOOT,
    plot: PLOT,
    line: rangeLine(range, { x, y }),
    marks: placed.map((mark) => drawMark(mark, { x, y }, window)),
    xTicks: timeTicks(window.fromS, window.toS, X_TICKS).map(({ at, text }) => ({
      at: x(at),
      text,
    })),
    yTicks: niceTicks(0, topM, 5).map((m) => ({
      at: y(m),
      text: formatNumber(m, topM < 5 ? 1 : 0),
    })),
    strips: (['before', 'after'] as const).map((side, index) => {
      const top = STRIP_TOPS[index] ?? STRIP_TOPS[0];
      return residualStrip(items, side, { x, box: { ...PLOT, top, bottom: top + STRIP_HEIGHT } });
    }),
    legend: legendOf(shapes),
    note: noteOf(placed, window, lagS),
  };
}

type Placed = Readonly<{
  item: ClockItem;
  shape: MarkShape;
  beforeS: number;
  afterS: number;
  rangeM: number;
}>;

/** A spoken range stands at the range said, anything else at the range measured then. */
function placeItem(item: ClockItem, range: RangeEnvelope, lagS: number): readonly Placed[] {
  if (item.kind === 'rate') return [];
  const isSpoken = item.kind === 'range' || item.kind === 'event';
  const afterS = item.sessionS - (isSpoken ? lagS : 0);
  const rangeM = item.callout?.said.value ?? measuredAt(range, afterS);
  return [{ item, shape: shapeOf(item), beforeS: item.sourceS, afterS, rangeM }];
}

function measuredAt({ tS, leastM, mostM }: RangeEnvelope, atS: number): number {
  const row = tS.findIndex((timeS) => timeS >= atS);
  const middleM = ((leastM[row] ?? Number.NaN) + (mostM[row] ?? Number.NaN)) / 2;
  return Number.isFinite(middleM) ? middleM : 0;
}

type Window = Readonly<{ fromS: number; toS: number }>;

/** The telemetry and the marks after; those before too, where the two clocks are not far apart. */
function timeWindow(placed: readonly Placed[], telemetry: Window): Window {
  const after = widened(
    telemetry,
    placed.map(({ afterS }) => afterS),
  );
  const both = widened(
    after,
    placed.map(({ beforeS }) => beforeS),
  );
  const spanS = after.toS - after.fromS;
  return both.toS - both.fromS <= spanS * (1 + MOST_WIDENING) ? both : after;
}

function widened(window: Window, timesS: readonly number[]): Window {
  return { fromS: Math.min(window.fromS, ...timesS), toS: Math.max(window.toS, ...timesS) };
}

type Scale = Readonly<{ x: (tS: number) => number; y: (m: number) => number }>;

function rangeLine({ tS, leastM, mostM }: RangeEnvelope, { x, y }: Scale): string {
  let path = '';
  let isDown = false;
  for (const [row, time] of tS.entries()) {
    const [least, most] = [leastM[row] ?? Number.NaN, mostM[row] ?? Number.NaN];
    const isThere = Number.isFinite(least) && Number.isFinite(most);
    if (isThere) {
      path += `${isDown ? 'L' : 'M'}${px(x(time))} ${px(y(most))}`;
      if (y(least) - y(most) >= 0.1) path += `V${px(y(least))}`;
    }
    isDown = isThere;
  }
  return path;
}

function drawMark(
  { item, shape, beforeS, afterS, rangeM }: Placed,
  { x, y }: Scale,
  window: Window,
): DrawnMark {
  const isInside = beforeS >= window.fromS && beforeS <= window.toS;
  const [fromX, toX] = [x(beforeS), x(afterS)];
  return {
    key: item.key,
    shape,
    before: isInside ? markPath(shape, fromX, y(rangeM)) : null,
    after: markPath(shape, toX, y(rangeM)),
    way: isInside && Math.abs(toX - fromX) > 1 ? `M${px(fromX)} ${px(y(rangeM))}H${px(toX)}` : null,
    title: `${item.words} (${item.state})`,
  };
}

/** Hollow and filled beside each other, in a drawing of 24 by 12. */
function legendOf(shapes: readonly MarkShape[]): ClockDrawing['legend'] {
  return Object.entries(SHAPE_WORDS).flatMap(([name, text]) => {
    const shape = shapes.find((each) => each === name);
    if (shape === undefined) return [];
    return [
      { shape, text, path: { before: markPath(shape, 6, 6), after: markPath(shape, 18, 6) } },
    ];
  });
}

function noteOf(placed: readonly Placed[], window: Window, lagS: number): string {
  const outside = placed.filter(({ beforeS }) => beforeS < window.fromS || beforeS > window.toS);
  const lag = lagS > 0 ? `, the assumed lag of ${formatNumber(lagS, 1)} s taken off` : '';
  const away =
    outside.length === 0
      ? ''
      : ` The log's own times lie too far away to be drawn for ${outside.length} of ${placed.length}.`;
  return `Line: estimated range. Hollow marks: where the log's own time puts the words; filled: where its clock puts them${lag}.${away}`;
}
