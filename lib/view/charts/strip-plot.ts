/** A strip as a Plot: envelope of a window in the reader's unit, with its axis, gaps and marks. */
import type { Plot, PlotBand, PlotMark, PlotSeries, PlotTick } from '../../core/debrief/plot';
import { timeAxis, valueAxis } from '../../core/debrief/plot-axis';
import { GAP_STEPS } from '../../core/series/faults';
import type { PlanLine, PlanTolerance } from '../timeline-plan';
import type { Strip, StripSeries } from '../timeline-strips';
import type { AxisWarp } from './axis-warp';
import { bestColumn, type FoundColumn, firstAtOrAfter } from './envelope-column';
import type { EnvelopeAnswer } from './envelope-wire';
import { type TimeWindow, windowSpanS } from './time-window';

/** Between the least and the greatest value of a dashed trace, whose line runs in the middle. */
export type SeriesSpread = Readonly<{
  seriesId: string;
  x: readonly number[];
  low: readonly (number | null)[];
  high: readonly (number | null)[];
}>;

/** A named area behind the lines, on the axes of the plot. */
export type NamedArea = Omit<SeriesSpread, 'seriesId'> & Readonly<{ label: string; words: string }>;

export type StripPlot = Readonly<{
  plot: Plot;
  /** Where simulator runs lay; null where there were none or none is in the window. */
  area: NamedArea | null;
  spreads: readonly SeriesSpread[];
  /** Series of this strip that the answer does not hold. */
  missing: readonly string[];
  /** False when nothing that was measured has a value inside the window. */
  hasValues: boolean;
  /** `fine` where every series comes from an envelope as fine as the window's own pixels. */
  grain: 'fine' | 'coarse';
}>;

export type StripPlotInput = Readonly<{
  strip: Strip;
  window: TimeWindow;
  /** Ticks of session time wanted at most. */
  timeTickCount: number;
  answers: readonly EnvelopeAnswer[];
  bands: readonly PlotBand[];
  marks: readonly PlotMark[];
  /** How the axis is marked and where instants stand on it; session time, evenly, where not given. */
  axis?: StripAxis;
}>;

/** `warp` null: instants stand evenly. */
export type StripAxis = Readonly<{ ticks: readonly PlotTick[]; warp: AxisWarp | null }>;

/** A limit far outside the trace would flatten it: it is drawn while it lies within this many spans. */
const LIMIT_REACH = 2;

/** The drawn part of a column: pixels with samples, in the reader's unit, `null` across a gap. */
type Trace = Readonly<{
  x: readonly number[];
  low: readonly (number | null)[];
  high: readonly (number | null)[];
}>;

/** Builds a strip's plot from the best envelope at hand for each of its series. */
export function stripPlot(input: StripPlotInput): StripPlot {
  const { strip, window } = input;
  const traces = strip.series.map((series) => {
    if (series.points !== undefined)
      return { series, isFine: true, trace: lineTrace(series.points, strip.fromSi) };
    const found = bestColumn(input.answers, series.key, window);
    const isFine =
      found === null
        ? input.answers.some((answer) => answer.missing.includes(series.key))
        : isAsFineAs(found, window);
    return { series, isFine, trace: found === null ? null : traceOf(found, strip.fromSi, window) };
  });
  const missing = traces.filter((each) => each.trace === null).map((each) => each.series.key);
  const words = { label: strip.label, unit: strip.unit };
  const area = areaOf(strip, window);
  const range = valueRange(traces, window, area);
  // Without a value there is no scale to be read: the axis says nothing.
  const scale = valueAxis(range, words);
  const y = range.length > 0 ? scale : { ...scale, ticks: [] };
  const series: PlotSeries[] = [];
  const spreads: SeriesSpread[] = [];
  for (const { series: each, trace } of traces) {
    if (trace === null) continue;
    if (each.points !== undefined && !crosses(trace, window)) continue;
    const head = { id: each.key, label: each.label, colour: each.colour, dash: each.dash };
    if (each.dash === 'solid') series.push({ ...head, ...zigzag(trace) });
    else {
      series.push({ ...head, ...middle(trace) });
      if (each.role === 'measured') spreads.push({ seriesId: each.key, ...trace });
      else if (each.tolerances !== undefined)
        spreads.push({ seriesId: each.key, ...tolerated(trace, each.tolerances, strip.fromSi) });
    }
  }
  const overlaps = (band: PlotBand): boolean =>
    band.along === 'y' || (band.to >= window.fromS && band.from <= window.toS);
  const plot: Plot = {
    id: strip.id,
    x: {
      ...timeAxis(window.fromS, window.toS, input.timeTickCount),
      ...(input.axis === undefined ? {} : { ticks: input.axis.ticks }),
    },
    y,
    series,
    bands: input.bands.filter(overlaps),
    marks: input.marks.filter((mark) => mark.at >= window.fromS && mark.at <= window.toS),
    points: [],
  };
  const grain = traces.every((each) => each.isFine) ? 'fine' : 'coarse';
  const hasValues = traces.some(
    ({ series: each, trace }) => each.role === 'measured' && isInWindow(trace, window),
  );
  const drawn = { plot, area, spreads, missing, hasValues, grain } as const;
  const warp = input.axis?.warp ?? null;
  return warp === null ? drawn : onWarp(drawn, warp);
}

/** True where a part of a line lies in the window: one that is elsewhere gets no name beside the strip. */
function crosses(trace: Trace, { fromS, toS }: TimeWindow): boolean {
  return trace.x.some((startS, index) => {
    const endS = trace.x[index + 1];
    const isDrawn = trace.low[index] !== null && (trace.low[index + 1] ?? null) !== null;
    return endS !== undefined && isDrawn && startS <= toS && endS >= fromS;
  });
}

function isInWindow(trace: Trace | null, { fromS, toS }: TimeWindow): boolean {
  if (trace === null) return false;
  return trace.x.some((tS, index) => tS >= fromS && tS <= toS && trace.low[index] !== null);
}

/** The same picture with every instant where the axis has it. */
function onWarp(drawn: StripPlot, { place }: AxisWarp): StripPlot {
  const { plot, area, spreads } = drawn;
  const moved = <Item extends Readonly<{ x: readonly number[] }>>(item: Item): Item => {
    return { ...item, x: item.x.map(place) };
  };
  return {
    ...drawn,
    area: area === null ? null : moved(area),
    spreads: spreads.map(moved),
    plot: {
      ...plot,
      series: plot.series.map(moved),
      bands: plot.bands.map((band) =>
        band.along === 'y' ? band : { ...band, from: place(band.from), to: place(band.to) },
      ),
      marks: plot.marks.map((mark) => ({ ...mark, at: place(mark.at) })),
    },
  };
}

/** True of an envelope of this very window, or of a shorter one about it, give or take rounding. */
function isAsFineAs({ of }: FoundColumn, window: TimeWindow): boolean {
  const covers = of.fromS <= window.fromS + 1e-6 && of.toS >= window.toS - 1e-6;
  return covers && windowSpanS(of) <= windowSpanS(window) * 1.001;
}

function areaOf({ runs, fromSi }: Strip, window: TimeWindow): NamedArea | null {
  if (runs === undefined) return null;
  const isIn = runs.tS.some((tS) => tS >= window.fromS && tS <= window.toS);
  const scaled = (side: RunBandSide): RunBandSide =>
    side.map((value) => (value === null ? null : value * fromSi));
  return isIn
    ? {
        label: runs.label,
        words: runs.words,
        x: runs.tS,
        low: scaled(runs.low),
        high: scaled(runs.high),
      }
    : null;
}

type RunBandSide = readonly (number | null)[];

/** What lies in the window, and the nearest value on either side of it: a line runs to both edges. */
function traceOf(found: FoundColumn, fromSi: number, window: TimeWindow): Trace {
  const { column, tS, pixelS } = found;
  const { minimum, maximum } = column;
  const gapS = Math.max(1.5 * pixelS, GAP_STEPS * (column.stepS ?? 0) + pixelS);
  let first = firstAtOrAfter(tS, window.fromS) - 1;
  while (first > 0 && Number.isNaN(minimum[first] ?? Number.NaN)) first -= 1;
  const x: number[] = [];
  const low: (number | null)[] = [];
  const high: (number | null)[] = [];
  let last = Number.NaN;
  for (let index = Math.max(0, first); index < tS.length && !(last > window.toS); index += 1) {
    const time = tS[index] ?? Number.NaN;
    const least = minimum[index] ?? Number.NaN;
    if (Number.isNaN(least)) continue;
    if (time - last > gapS) {
      x.push((time + last) / 2);
      low.push(null);
      high.push(null);
    }
    x.push(time);
    low.push(least * fromSi);
    high.push((maximum[index] ?? Number.NaN) * fromSi);
    last = time;
  }
  return { x, low, high };
}

/** A line that the page itself holds. */
function lineTrace({ tS, values }: PlanLine, fromSi: number): Trace {
  const scaled = values.map((value) => (value === null ? null : value * fromSi));
  return { x: tS, low: scaled, high: scaled };
}

/** The band about a line in which a value may lie; nothing where no tolerance applies. */
function tolerated(trace: Trace, tolerances: readonly PlanTolerance[], fromSi: number): Trace {
  const side = (values: Trace['low'], sign: 1 | -1): Trace['low'] =>
    values.map((value, index) => {
      const tS = trace.x[index] ?? Number.NaN;
      const by = tolerances.find((each) => tS >= each.fromS && tS <= each.toS)?.by;
      return value === null || by === undefined ? null : value + sign * by * fromSi;
    });
  return { x: trace.x, low: side(trace.low, -1), high: side(trace.high, 1) };
}

/** Least and greatest one after the other: a lone spike reaches its full height. */
function zigzag(trace: Trace): Readonly<{ x: readonly number[]; y: readonly (number | null)[] }> {
  const x: number[] = [];
  const y: (number | null)[] = [];
  let before = Number.NaN;
  trace.x.forEach((time, index) => {
    const low = trace.low[index] ?? null;
    const high = trace.high[index] ?? null;
    if (low === null || high === null || low === high) {
      x.push(time);
      y.push(low);
      before = low ?? Number.NaN;
      return;
    }
    // Begins with the nearer end, so that the line does not cross the pixel twice.
    const rising = !(Math.abs(high - before) < Math.abs(low - before));
    x.push(time, time);
    y.push(rising ? low : high, rising ? high : low);
    before = rising ? high : low;
  });
  return { x, y };
}

function middle(trace: Trace): Readonly<{ x: readonly number[]; y: readonly (number | null)[] }> {
  const y = trace.low.map((low, index) => {
    const high = trace.high[index] ?? null;
    return low === null || high === null ? null : (low + high) / 2;
  });
  return { x: trace.x, y };
}

/**
 * A sample stands in the middle of its pixel, so that one at the window's edge lies half a pixel outside:
 * this part of the window on both sides counts as inside.
 */
const EDGE_SHARE = 1 / 200;

/** Ends of the value axis: measured and planned values, and limits that lie near them. */
function valueRange(
  traces: readonly Readonly<{ series: StripSeries; trace: Trace | null }>[],
  window: TimeWindow,
  area: NamedArea | null,
): readonly number[] {
  const edgeS = windowSpanS(window) * EDGE_SHARE;
  const ends = (roles: readonly StripSeries['role'][]): readonly [number, number] => {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (const { series, trace } of traces) {
      if (trace === null || !roles.includes(series.role)) continue;
      trace.x.forEach((time, index) => {
        const least = trace.low[index] ?? null;
        const most = trace.high[index] ?? null;
        if (least === null || most === null) return;
        if (time < window.fromS - edgeS || time > window.toS + edgeS) return;
        low = Math.min(low, least);
        high = Math.max(high, most);
      });
    }
    return [low, high];
  };
  const [low, high] = ends(['measured', 'plan']);
  const [limitLow, limitHigh] = ends(['limit']);
  if (low > high) return limitLow > limitHigh ? [] : [limitLow, limitHigh];
  const reach = LIMIT_REACH * Math.max(high - low, Math.abs(high) * 0.5);
  const runs = [...(area?.low ?? []), ...(area?.high ?? [])].filter((each) => each !== null);
  const near = [limitLow, limitHigh, ...runs].filter(
    (each) => each >= low - reach && each <= high + reach,
  );
  return [low, high, ...near];
}
