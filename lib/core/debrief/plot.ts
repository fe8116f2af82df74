/**
 * A plot as data: axes with scale and ticks, series as points with gaps, bands, marks and labels.
 *
 * One model, two renderers: `svg-plot.ts` writes it as plain SVG where people read, the charts turn
 * it into their own configuration where people interact. Both take scales, ticks and marks from here,
 * so they agree. Pure data, JSON-safe: a gap is `null`, never NaN.
 */

/** One of the five series colours of the look; each also gets a dash and a direct label. */
export type SeriesColour = 1 | 2 | 3 | 4 | 5;

export type DashName = 'solid' | 'dash' | 'dot' | 'dash-dot' | 'long-dash';

/** Stroke pattern of each dash: lengths drawn and left out, in pixels at normal size. */
export const DASH_PX: Readonly<Record<DashName, readonly number[]>> = {
  solid: [],
  dash: [7, 4],
  dot: [2, 3],
  'dash-dot': [8, 3, 2, 3],
  'long-dash': [14, 5],
};

/** The dash that goes with each colour where a caller has no reason for another. */
export const COLOUR_DASH: Readonly<Record<SeriesColour, DashName>> = {
  1: 'solid',
  2: 'dash',
  3: 'dash-dot',
  4: 'dot',
  5: 'long-dash',
};

/** `at` is in the unit of the axis. */
export type PlotTick = Readonly<{ at: number; text: string }>;

/**
 * A linear axis. `from` is drawn at the left or bottom end, `to` at the right or top end; `from` may
 * be the larger one. Ticks lie inside and carry their text. `unit` is '' for session time as a clock.
 */
export type PlotAxis = Readonly<{
  label: string;
  unit: string;
  from: number;
  to: number;
  ticks: readonly PlotTick[];
}>;

/** Points of one trace in their order, `x` ascending where it is time; `y` null = no value, and no line is drawn across it. */
export type PlotSeries = Readonly<{
  id: string;
  label: string;
  colour: SeriesColour;
  dash: DashName;
  x: readonly number[];
  y: readonly (number | null)[];
}>;

/** What a band or mark says; each tone has its own colour and is never told by colour alone. */
export type PlotTone =
  | 'hold'
  | 'closing'
  | 'opening'
  | 'crossing'
  | 'beyond'
  | 'gap'
  | 'finding'
  | 'question'
  | 'event'
  | 'contact';

/** A stretch along one axis, behind the series. An empty label is not drawn. */
export type PlotBand = Readonly<{
  along: 'x' | 'y';
  from: number;
  to: number;
  tone: PlotTone;
  label: string;
}>;

/** A line across the plot at an x, with its label. */
export type PlotMark = Readonly<{ at: number; tone: PlotTone; label: string }>;

/** A single point worth pointing at, with its label. */
export type PlotPoint = Readonly<{ x: number; y: number; tone: PlotTone; label: string }>;

/** One strip. Several strips that share an x axis are given to a renderer as a list. */
export type Plot = Readonly<{
  id: string;
  x: PlotAxis;
  y: PlotAxis;
  series: readonly PlotSeries[];
  bands: readonly PlotBand[];
  marks: readonly PlotMark[];
  points: readonly PlotPoint[];
}>;

/**
 * Where a value lies along an axis.
 *
 * @param axis any axis with from and to apart
 * @param value in the axis's unit
 * @returns 0 at `from`, 1 at `to`, beyond either outside; 0 for an axis without length
 */
export function axisRatio(axis: PlotAxis, value: number): number {
  const length = axis.to - axis.from;
  return length === 0 ? 0 : (value - axis.from) / length;
}
