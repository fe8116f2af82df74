/**
 * Plain SVG from a plot's points: for documents, print and small overviews. It is drawn as a tree of
 * elements, which one writer turns into text and a page into elements of its own.
 *
 * Geometry and presentation attributes only, no style attribute and no style element, so it passes a
 * strict content policy. Colours are custom properties of the page with the light values as fallback:
 * the same text is right in light, dark and print, and alone in a file. Text stays text.
 */
import { plainText } from './markup';
import { axisRatio, DASH_PX, type Plot, type PlotSeries, type SeriesColour } from './plot';
import { spreadLabels } from './spread-labels';
import { type BandLetters, bandLetters, legendOf } from './svg-legend';
import { type SvgNode, svgText } from './svg-node';
import {
  CHARACTER_PX,
  type Colour,
  element,
  INK,
  INK_SOFT,
  type Pen,
  px,
  TONES,
  WASH,
  word,
} from './svg-pen';

/** What a plot needs beside its data to be drawn. */
export type SvgPlotOptions = Readonly<{
  /** Prefix of the ids inside, one per page: letters, digits and hyphens. */
  idPrefix: string;
  title: string;
  description: string;
  widthPx?: number;
  stripHeightPx?: number;
  /** `variables` for pages, `plain` for programs that do not know custom properties. */
  colours?: 'variables' | 'plain';
}>;

const SERIES: Readonly<Record<SeriesColour, readonly [name: string, light: string]>> = {
  1: ['--series-1', '#0072b2'],
  2: ['--series-2', '#d55e00'],
  3: ['--series-3', '#00805d'],
  4: ['--series-4', '#a8558a'],
  5: ['--series-5', '#1b2530'],
};

const GRATICULE = ['--graticule', '#e3dfd0'] as const;
const FRAME = ['--rule-strong', '#8b8672'] as const;
const SHEET = ['--sheet', '#fdfcf8'] as const;

const LEFT_PX = 62;
const TOP_PX = 34;
const BETWEEN_PX = 34;
const BOTTOM_PX = 40;
type Frame = Readonly<{ left: number; top: number; width: number; height: number }>;
/** Whether a strip carries the words that stand once per picture. */
type Wording = 'labelled' | 'bare';

function clampRatio(ratio: number): number {
  return Math.min(1, Math.max(0, ratio));
}

type Box = Readonly<{ x: number; y: number; width: number; height: number }>;

function edgeNodes(pen: Pen, { x, y, width, height }: Box): SvgNode[] {
  const d = `M${px(x)} ${px(y)}v${px(height)}M${px(x + width)} ${px(y)}v${px(height)}`;
  return [element('path', { d, stroke: pen.paint(TONES.beyond), 'stroke-width': '0.8' })];
}

function bandNodes(pen: Pen, plot: Plot, frame: Frame, letters: BandLetters | null): SvgNode[] {
  return plot.bands.flatMap((band) => {
    const axis = band.along === 'x' ? plot.x : plot.y;
    const ratios = [band.from, band.to].map((end) => clampRatio(axisRatio(axis, end)));
    const low = Math.min(...ratios);
    const high = Math.max(...ratios);
    if (high <= low) return [];
    const box =
      band.along === 'x'
        ? {
            x: frame.left + low * frame.width,
            y: frame.top,
            width: Math.max(1, (high - low) * frame.width),
            height: frame.height,
          }
        : {
            x: frame.left,
            y: frame.top + (1 - high) * frame.height,
            width: frame.width,
            height: (high - low) * frame.height,
          };
    const fill =
      band.tone === 'gap'
        ? { fill: `url(#${pen.prefix}-gap)` }
        : { fill: pen.paint(TONES[band.tone]), 'fill-opacity': String(WASH[band.tone] ?? 1) };
    const nodes = [element('rect', { ...box, ...fill })];
    // Its edges say where it is beyond a limit where the wash is not seen.
    if (band.tone === 'beyond') nodes.push(...edgeNodes(pen, box));
    if (band.along === 'x' && band.label !== '' && letters !== null) {
      const look = { colour: INK_SOFT, anchor: 'middle' } as const;
      const text = letters.get(band) ?? band.label;
      nodes.push(word(pen, text, box.x + box.width / 2, frame.top - 5, look));
    }
    return nodes;
  });
}

function gridNodes(pen: Pen, plot: Plot, frame: Frame, wording: Wording): SvgNode[] {
  const stroke = pen.paint(GRATICULE);
  const look = { colour: INK_SOFT, face: 'mono' } as const;
  const nodes: SvgNode[] = [];
  for (const tick of plot.y.ticks) {
    const y = frame.top + (1 - axisRatio(plot.y, tick.at)) * frame.height;
    nodes.push(element('path', { d: `M${px(frame.left)} ${px(y)}h${px(frame.width)}`, stroke }));
    nodes.push(word(pen, tick.text, frame.left - 7, y + 4, { ...look, anchor: 'end' }));
  }
  for (const tick of plot.x.ticks) {
    const x = frame.left + axisRatio(plot.x, tick.at) * frame.width;
    nodes.push(element('path', { d: `M${px(x)} ${px(frame.top)}v${px(frame.height)}`, stroke }));
    if (wording === 'bare') continue;
    const y = frame.top + frame.height + 15;
    nodes.push(word(pen, tick.text, x, y, { ...look, anchor: 'middle' }));
  }
  return nodes;
}

/** Path data of a trace: a new start after each null, a dot where a value stands alone. */
function tracePath(plot: Plot, series: PlotSeries, frame: Frame): string {
  let d = '';
  let joined = false;
  series.y.forEach((value, index) => {
    const at = series.x[index];
    if (value === null || at === undefined) {
      joined = false;
      return;
    }
    const x = frame.left + axisRatio(plot.x, at) * frame.width;
    const y = frame.top + (1 - axisRatio(plot.y, value)) * frame.height;
    d += `${joined ? 'L' : 'M'}${px(x)} ${px(y)}`;
    if (!joined && (series.y[index + 1] ?? null) === null) d += 'h0.01';
    joined = true;
  });
  return d;
}

function seriesNodes(pen: Pen, plot: Plot, frame: Frame, clip: string): SvgNode[] {
  const ends = plot.series.map((series) => {
    const last = series.y.findLast((value) => value !== null) ?? plot.y.from;
    return frame.top + (1 - clampRatio(axisRatio(plot.y, last))) * frame.height;
  });
  const room = { gapPx: 14, fromPx: frame.top + 6, toPx: frame.top + frame.height };
  const labels = spreadLabels(ends, room);
  return plot.series.flatMap((series, index) => {
    const colour = SERIES[series.colour];
    const dashes = DASH_PX[series.dash];
    const line = {
      fill: 'none',
      stroke: pen.paint(colour),
      'stroke-width': '1.5',
      'stroke-linejoin': 'round',
      ...(dashes.length === 0 ? {} : { 'stroke-dasharray': dashes.join(' ') }),
    };
    const y = labels[index] ?? frame.top;
    const x = frame.left + frame.width + 6;
    const d = tracePath(plot, series, frame);
    return [
      element('path', { class: 'plot-series', d, ...line, 'clip-path': `url(#${clip})` }),
      element('path', { d: `M${px(x)} ${px(y)}h20`, ...line }),
      word(pen, shortened(series.label), x + 25, y + 4, { colour }),
    ];
  });
}

function markNodes(pen: Pen, plot: Plot, frame: Frame, wording: Wording): SvgNode[] {
  const nodes: SvgNode[] = [];
  for (const mark of plot.marks) {
    const ratio = axisRatio(plot.x, mark.at);
    if (ratio < 0 || ratio > 1) continue;
    const x = frame.left + ratio * frame.width;
    const d = `M${px(x)} ${px(frame.top)}v${px(frame.height)}`;
    const stroke = pen.paint(TONES[mark.tone]);
    nodes.push(element('path', { d, stroke, 'stroke-width': '1.25', 'stroke-dasharray': '3 3' }));
    if (wording === 'bare' || mark.label === '') continue;
    const anchor = ratio > 0.85 ? 'end' : 'start';
    const look = { colour: TONES[mark.tone], anchor } as const;
    nodes.push(word(pen, mark.label, x + (anchor === 'end' ? -5 : 5), frame.top + 13, look));
  }
  for (const point of plot.points) {
    const ratio = axisRatio(plot.x, point.x);
    const x = frame.left + ratio * frame.width;
    const y = frame.top + (1 - axisRatio(plot.y, point.y)) * frame.height;
    const stroke = pen.paint(TONES[point.tone]);
    const ring = { cx: x, cy: y, r: '3.5', fill: 'none', stroke, 'stroke-width': '1.5' };
    nodes.push(element('circle', ring));
    if (point.label === '') continue;
    const anchor = ratio > 0.7 ? 'end' : 'start';
    const textY = y - 17 > frame.top ? y - 8 : y + 17;
    const look = { colour: TONES[point.tone], anchor } as const;
    nodes.push(word(pen, point.label, x + (anchor === 'end' ? -6 : 6), textY, look));
  }
  return nodes;
}

function stripNodes(
  pen: Pen,
  plots: readonly Plot[],
  index: number,
  frame: Frame,
  letters: BandLetters,
): SvgNode[] {
  const plot = plots[index];
  if (plot === undefined) return [];
  const clip = `${pen.prefix}-clip-${index}`;
  const box = { x: frame.left, y: frame.top, width: frame.width, height: frame.height };
  const unit = plot.y.unit === '' ? '' : `, ${plot.y.unit}`;
  const first = index === 0 ? 'labelled' : 'bare';
  const last = index === plots.length - 1 ? 'labelled' : 'bare';
  return [
    element('clipPath', { id: clip }, [element('rect', box)]),
    element('rect', { ...box, fill: pen.paint(SHEET) }),
    ...bandNodes(pen, plot, frame, index === 0 ? letters : null),
    ...gridNodes(pen, plot, frame, last),
    ...seriesNodes(pen, plot, frame, clip),
    ...markNodes(pen, plot, frame, first),
    element('rect', { ...box, fill: 'none', stroke: pen.paint(FRAME) }),
    word(pen, `${plot.y.label}${unit}`, 4, frame.top - (index === 0 ? 19 : 11), { colour: INK }),
  ];
}

/** Most room that direct labels take at the right. */
const MOST_RIGHT_PX = 210;
const LONGEST_LABEL = Math.floor((MOST_RIGHT_PX - 36) / CHARACTER_PX);

/** A direct label with an ellipsis where the picture has no room for more of it. */
function shortened(label: string): string {
  const letters = [...label];
  if (letters.length <= LONGEST_LABEL) return label;
  return `${letters
    .slice(0, LONGEST_LABEL - 1)
    .join('')
    .trimEnd()}\u2026`;
}

/** Room for the direct labels at the right, from the longest of them. */
function rightRoomPx(plots: readonly Plot[]): number {
  const lengths = plots.flatMap((plot) => plot.series.map((series) => series.label.length));
  return Math.min(MOST_RIGHT_PX, 36 + Math.ceil(Math.max(0, ...lengths) * CHARACTER_PX));
}

/**
 * Draws strips that share one x axis as one SVG element.
 *
 * @param plots from top to bottom; the x axis of the last is labelled
 * @param options title and description are read out by screen readers and stay with the picture
 * @returns the tree of the `svg` element; the same for the same plots, everywhere
 */
export function drawPlot(plots: readonly Plot[], options: SvgPlotOptions): SvgNode {
  const { title, description, widthPx = 880, stripHeightPx = 150, colours = 'variables' } = options;
  const prefix = options.idPrefix.replace(/[^A-Za-z0-9-]/g, '-');
  const paint = ([name, light]: Colour) => (colours === 'plain' ? light : `var(${name}, ${light})`);
  const pen: Pen = { paint, prefix };
  const width = widthPx - LEFT_PX - rightRoomPx(plots);
  const between = Math.max(0, plots.length - 1) * BETWEEN_PX;
  const drawnPx = TOP_PX + plots.length * stripHeightPx + between + BOTTOM_PX;
  const letters = bandLetters(plots[0], width);
  const legend = legendOf(plots, letters, width);
  const heightPx = drawnPx + legend.heightPx;
  const strips = plots.flatMap((_, index) => {
    const top = TOP_PX + index * (stripHeightPx + BETWEEN_PX);
    const frame = { left: LEFT_PX, top, width, height: stripHeightPx };
    return stripNodes(pen, plots, index, frame, letters);
  });
  const x = plots.at(-1)?.x;
  const xLabel = x === undefined ? '' : `${x.label}${x.unit === '' ? '' : `, ${x.unit}`}`;
  const named = (tag: string, id: string, text: string) => ({
    ...element(tag, { id: `${prefix}-${id}` }),
    text: plainText(text),
  });
  const hatch = element('path', { d: 'M0 6L6 0', stroke: paint(TONES.gap), 'stroke-width': '0.8' });
  const tile = { id: `${prefix}-gap`, width: '6', height: '6', patternUnits: 'userSpaceOnUse' };
  const root = {
    xmlns: 'http://www.w3.org/2000/svg',
    class: 'plot',
    role: 'img',
    viewBox: `0 0 ${px(widthPx)} ${px(heightPx)}`,
    width: widthPx,
    height: heightPx,
    'font-size': '11.5',
    'font-family': 'IBM Plex Sans, Helvetica Neue, Arial, sans-serif',
    'aria-labelledby': `${prefix}-title ${prefix}-desc`,
  };
  return element('svg', root, [
    named('title', 'title', title),
    named('desc', 'desc', description),
    element('defs', {}, [element('pattern', tile, [hatch])]),
    ...strips,
    word(pen, xLabel, LEFT_PX + width / 2, drawnPx - 7, { colour: INK, anchor: 'middle' }),
    ...legend.draw(pen, LEFT_PX, drawnPx + 1),
  ]);
}

/** The same as text: an `<svg>` element for a page or a file. */
export function svgPlot(plots: readonly Plot[], options: SvgPlotOptions): string {
  return svgText(drawPlot(plots, options));
}
