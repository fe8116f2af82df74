/** A strip as a Plot: envelope of a window in the reader's unit, with its axis, gaps and marks. */
import type { Plot, PlotBand, PlotMark, PlotSeries, PlotTick } from '../../core/debrief/plot';
import { timeAxis, valueAxis } from '../../core/debrief/plot-axis';
import { GAP_STEPS } from '../../core/series/faults';
import type { PlanLine, PlanTolerance } from '../timeline-plan';
import type { Strip, StripSeries } from '../timeline-strips';
import type { AxisWarp } from './axis-warp';
import type { EnvelopeAnswer, EnvelopeColumn } from './envelope-wire';
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

type Found = Readonly<{
  column: EnvelopeColumn;
  tS: Float64Array;
  pixelS: number;
  /** The window that the envelope was asked for. */
  of: TimeWindow;
}>;

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
    return { series, isFine, trace: found === null ? null : traceOf(found, strip.fromSi) };
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
function isAsFineAs({ of }: Found, window: TimeWindow): boolean {
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

/**
 * What a strip reads at an instant: least and greatest of the pixel there, in the reader's unit. An
 * instant outside the window is read from the finest answer that reaches it, as a rule the coarse one
 * of the whole session.
 */
export type Reading = Readonly<{ low: number; high: number }>;

export function readStripAt(
  answers: readonly EnvelopeAnswer[],
  series: StripSeries,
  at: Readonly<{ tS: number; window: TimeWindow; fromSi: number }>,
): Reading | null {
  if (series.points !== undefined) return readLineAt(series.points, at);
  const isShown = at.tS >= at.window.fromS && at.tS <= at.window.toS;
  const reaching = answers.filter((each) => at.tS >= each.fromS && at.tS <= each.toS);
  const found = isShown
    ? bestColumn(answers, series.key, at.window)
    : bestColumn(reaching, series.key, { fromS: at.tS, toS: at.tS });
  if (found === null) return null;
  const { column, tS, pixelS } = found;
  const reach = Math.max(pixelS, GAP_STEPS * (column.stepS ?? pixelS)) / 2;
  let nearest = -1;
  let distance = Number.POSITIVE_INFINITY;
  for (let index = firstAtOrAfter(tS, at.tS - reach); index < tS.length; index += 1) {
    const time = tS[index] ?? Number.POSITIVE_INFINITY;
    if (time > at.tS + reach) break;
    const away = Math.abs(time - at.tS);
    if (away >= distance || Number.isNaN(column.minimum[index] ?? Number.NaN)) continue;
    distance = away;
    nearest = index;
  }
  if (nearest === -1) return null;
  return {
    low: (column.minimum[nearest] ?? Number.NaN) * at.fromSi,
    high: (column.maximum[nearest] ?? Number.NaN) * at.fromSi,
  };
}

/** Linear between the points of a line beside an instant; null outside and across what is not drawn. */
function readLineAt(
  { tS, values }: PlanLine,
  at: Readonly<{ tS: number; fromSi: number }>,
): Reading | null {
  const next = tS.findIndex((each, index) => each >= at.tS && (tS[index - 1] ?? at.tS) <= at.tS);
  const right = values[next] ?? null;
  if (next === -1 || right === null) return null;
  const leftS = tS[next - 1];
  const left = values[next - 1] ?? null;
  const rightS = tS[next] ?? at.tS;
  if (rightS === at.tS) return { low: right * at.fromSi, high: right * at.fromSi };
  if (leftS === undefined || left === null) return null;
  const value = left + ((at.tS - leftS) / (rightS - leftS)) * (right - left);
  return { low: value * at.fromSi, high: value * at.fromSi };
}

/**
 * The finest envelope that covers the window; while a finer one is on its way, the one that covers
 * most of it.
 */
function bestColumn(
  answers: readonly EnvelopeAnswer[],
  key: string,
  window: TimeWindow,
): Found | null {
  let best: Found | null = null;
  let bestScore = Number.NEGATIVE_INFINITY;
  for (const answer of answers) {
    const group = answer.groups.find((each) => each.columns.some((column) => column.key === key));
    const column = group?.columns.find((each) => each.key === key);
    if (group === undefined || column === undefined) continue;
    const covered = Math.min(answer.toS, window.toS) - Math.max(answer.fromS, window.fromS);
    // An instant has no span: what reaches it covers it.
    const spanS = windowSpanS(window);
    const share = spanS === 0 ? 1 : Math.max(0, covered) / spanS;
    const pixelS = (answer.toS - answer.fromS) / Math.max(1, answer.pixels);
    const score = share > 0.999 ? 1 + 1 / (1 + pixelS) : share;
    if (score <= bestScore) continue;
    bestScore = score;
    best = { column, tS: group.tS, pixelS, of: { fromS: answer.fromS, toS: answer.toS } };
  }
  return best;
}

function traceOf(found: Found, fromSi: number): Trace {
  const { column, tS, pixelS } = found;
  const gapS = Math.max(1.5 * pixelS, GAP_STEPS * (column.stepS ?? 0) + pixelS);
  const x: number[] = [];
  const low: (number | null)[] = [];
  const high: (number | null)[] = [];
  let last = Number.NaN;
  tS.forEach((time, index) => {
    const least = column.minimum[index] ?? Number.NaN;
    if (Number.isNaN(least)) return;
    if (time - last > gapS) {
      x.push((time + last) / 2);
      low.push(null);
      high.push(null);
    }
    x.push(time);
    low.push(least * fromSi);
    high.push((column.maximum[index] ?? Number.NaN) * fromSi);
    last = time;
  });
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

/** Ends of the value axis: measured and planned values, and limits that lie near them. */
function valueRange(
  traces: readonly Readonly<{ series: StripSeries; trace: Trace | null }>[],
  window: TimeWindow,
  area: NamedArea | null,
): readonly number[] {
  const ends = (roles: readonly StripSeries['role'][]): readonly [number, number] => {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (const { series, trace } of traces) {
      if (trace === null || !roles.includes(series.role)) continue;
      trace.x.forEach((time, index) => {
        const least = trace.low[index] ?? null;
        const most = trace.high[index] ?? null;
        if (least === null || most === null || time < window.fromS || time > window.toS) return;
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

function firstAtOrAfter(tS: Float64Array, timeS: number): number {
  let low = 0;
  let high = tS.length;
  while (low < high) {
    const middleIndex = (low + high) >>> 1;
    if ((tS[middleIndex] ?? Number.POSITIVE_INFINITY) < timeS) low = middleIndex + 1;
    else high = middleIndex;
  }
  return low;
}

/** The middle of each pixel of a column in a window, SI; NaN where it has no sample. */
export function columnAlong(
  answers: readonly EnvelopeAnswer[],
  key: string,
  window: TimeWindow,
): Readonly<{ tS: readonly number[]; values: readonly number[] }> {
  const found = bestColumn(answers, key, window);
  if (found === null) return { tS: [], values: [] };
  const { minimum, maximum } = found.column;
  return {
    tS: Array.from(found.tS),
    values: Array.from(minimum, (low, index) => (low + (maximum[index] ?? Number.NaN)) / 2),
  };
}
