/**
 * Plain SVG from a plot's points: for documents, print and small overviews.
 *
 * Geometry and presentation attributes only, no style attribute and no style element, so it passes a
 * strict content policy. Colours are custom properties of the page with the light values as fallback:
 * the same text is right in light, dark and print, and alone in a file. Text stays text.
 */
import { escapeMarkup } from './markup';
import { axisRatio, DASH_PX, type Plot, type PlotTone, type SeriesColour } from './plot';
import { spreadLabels } from './spread-labels';

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

const TONES: Readonly<Record<PlotTone, readonly [name: string, light: string]>> = {
  hold: ['--phase-hold', '#ebe5d3'],
  closing: ['--phase-closing', '#d6e6f2'],
  opening: ['--phase-opening', '#f4ddd0'],
  crossing: ['--phase-crossing', '#e8dcec'],
  beyond: ['--beyond', '#b34700'],
  gap: ['--ink-faint', '#666e76'],
  finding: ['--accent', '#00598c'],
  event: ['--ink-soft', '#4d5761'],
  contact: ['--inside', '#00704f'],
};

const INK = ['--ink', '#1b2530'] as const;
const INK_SOFT = ['--ink-soft', '#4d5761'] as const;
const GRATICULE = ['--graticule', '#e3dfd0'] as const;
const FRAME = ['--rule-strong', '#8b8672'] as const;
const SHEET = ['--sheet', '#fdfcf8'] as const;

/** Solid tones wash the background; the others are drawn thin so that the trace stays readable. */
const WASH: Readonly<Partial<Record<PlotTone, number>>> = { beyond: 0.18, finding: 0.14 };

const LEFT_PX = 62;
const TOP_PX = 34;
const BETWEEN_PX = 26;
const BOTTOM_PX = 40;
const CHARACTER_PX = 6.4;

type Colour = readonly [name: string, light: string];
type Frame = Readonly<{ left: number; top: number; width: number; height: number }>;
type Pen = Readonly<{
  paint: (colour: Colour) => string;
  prefix: string;
}>;

function px(value: number): string {
  return String(Math.round(value * 100) / 100 + 0);
}

function textTag(
  pen: Pen,
  text: string,
  x: number,
  y: number,
  look: Readonly<{ colour: Colour; anchor?: 'start' | 'middle' | 'end'; face?: 'mono' }>,
): string {
  const anchor = look.anchor === undefined ? '' : ` text-anchor="${look.anchor}"`;
  const face = look.face === 'mono' ? ' class="plot-number"' : '';
  return `<text x="${px(x)}" y="${px(y)}" fill="${pen.paint(look.colour)}"${anchor}${face}>${escapeMarkup(text)}</text>`;
}

function clampRatio(ratio: number): number {
  return Math.min(1, Math.max(0, ratio));
}

function bandTags(pen: Pen, plot: Plot, frame: Frame, labelled: 'labelled' | 'bare'): string[] {
  return plot.bands.flatMap((band) => {
    const axis = band.along === 'x' ? plot.x : plot.y;
    const ends = [
      clampRatio(axisRatio(axis, band.from)),
      clampRatio(axisRatio(axis, band.to)),
    ].sort((a, b) => a - b);
    const [low = 0, high = 0] = ends;
    if (high <= low) return [];
    const box =
      band.along === 'x'
        ? {
            x: frame.left + low * frame.width,
            y: frame.top,
            w: (high - low) * frame.width,
            h: frame.height,
          }
        : {
            x: frame.left,
            y: frame.top + (1 - high) * frame.height,
            w: frame.width,
            h: (high - low) * frame.height,
          };
    const fill =
      band.tone === 'gap'
        ? `fill="url(#${pen.prefix}-gap)"`
        : `fill="${pen.paint(TONES[band.tone])}" fill-opacity="${WASH[band.tone] ?? 1}"`;
    const tags = [
      `<rect x="${px(box.x)}" y="${px(box.y)}" width="${px(box.w)}" height="${px(box.h)}" ${fill}/>`,
    ];
    const fits = band.label.length * CHARACTER_PX <= box.w;
    if (labelled === 'labelled' && band.along === 'x' && band.label !== '' && fits) {
      tags.push(
        textTag(pen, band.label, box.x + box.w / 2, frame.top - 5, {
          colour: INK_SOFT,
          anchor: 'middle',
        }),
      );
    }
    return tags;
  });
}

function gridTags(pen: Pen, plot: Plot, frame: Frame, bottom: 'bottom' | 'inner'): string[] {
  const grid = pen.paint(GRATICULE);
  const tags: string[] = [];
  for (const tick of plot.y.ticks) {
    const y = frame.top + (1 - axisRatio(plot.y, tick.at)) * frame.height;
    tags.push(`<path d="M${px(frame.left)} ${px(y)}h${px(frame.width)}" stroke="${grid}"/>`);
    tags.push(
      textTag(pen, tick.text, frame.left - 7, y + 4, {
        colour: INK_SOFT,
        anchor: 'end',
        face: 'mono',
      }),
    );
  }
  for (const tick of plot.x.ticks) {
    const x = frame.left + axisRatio(plot.x, tick.at) * frame.width;
    tags.push(`<path d="M${px(x)} ${px(frame.top)}v${px(frame.height)}" stroke="${grid}"/>`);
    if (bottom === 'inner') continue;
    const y = frame.top + frame.height + 15;
    tags.push(textTag(pen, tick.text, x, y, { colour: INK_SOFT, anchor: 'middle', face: 'mono' }));
  }
  return tags;
}

/** Path data of a trace: a new start after each null. */
function tracePath(plot: Plot, index: number, frame: Frame): string {
  const series = plot.series[index];
  if (series === undefined) return '';
  let d = '';
  let joined = false;
  series.y.forEach((value, point) => {
    const at = series.x[point];
    if (value === null || at === undefined) {
      joined = false;
      return;
    }
    const x = frame.left + axisRatio(plot.x, at) * frame.width;
    const y = frame.top + (1 - axisRatio(plot.y, value)) * frame.height;
    d += `${joined ? 'L' : 'M'}${px(x)} ${px(y)}`;
    if (!joined && (series.y[point + 1] ?? null) === null) d += 'h0.01';
    joined = true;
  });
  return d;
}

function seriesTags(pen: Pen, plot: Plot, frame: Frame, clip: string): string[] {
  const labels = spreadLabels(
    plot.series.map((series) => {
      const last = series.y.findLast((value) => value !== null) ?? plot.y.from;
      return frame.top + (1 - clampRatio(axisRatio(plot.y, last))) * frame.height;
    }),
    { gapPx: 14, fromPx: frame.top + 6, toPx: frame.top + frame.height },
  );
  return plot.series.flatMap((series, index) => {
    const colour = SERIES[series.colour];
    const dashes = DASH_PX[series.dash];
    const dash = dashes.length === 0 ? '' : ` stroke-dasharray="${dashes.join(' ')}"`;
    const line = `fill="none" stroke="${pen.paint(colour)}" stroke-width="1.5" stroke-linejoin="round"${dash}`;
    const y = labels[index] ?? frame.top;
    const x = frame.left + frame.width + 6;
    return [
      `<path class="plot-series" d="${tracePath(plot, index, frame)}" ${line} clip-path="url(#${clip})"/>`,
      `<path d="M${px(x)} ${px(y)}h20" ${line}/>`,
      textTag(pen, series.label, x + 25, y + 4, { colour }),
    ];
  });
}

function markTags(pen: Pen, plot: Plot, frame: Frame, labelled: 'labelled' | 'bare'): string[] {
  const tags: string[] = [];
  for (const mark of plot.marks) {
    const ratio = axisRatio(plot.x, mark.at);
    if (ratio < 0 || ratio > 1) continue;
    const x = frame.left + ratio * frame.width;
    tags.push(
      `<path d="M${px(x)} ${px(frame.top)}v${px(frame.height)}" stroke="${pen.paint(TONES[mark.tone])}" stroke-width="1.25" stroke-dasharray="3 3"/>`,
    );
    if (labelled === 'bare' || mark.label === '') continue;
    const nearEnd = ratio > 0.85;
    const anchor = nearEnd ? 'end' : 'start';
    tags.push(
      textTag(pen, mark.label, x + (nearEnd ? -5 : 5), frame.top + 13, {
        colour: TONES[mark.tone],
        anchor,
      }),
    );
  }
  for (const point of plot.points) {
    const x = frame.left + axisRatio(plot.x, point.x) * frame.width;
    const y = frame.top + (1 - axisRatio(plot.y, point.y)) * frame.height;
    const anchor = axisRatio(plot.x, point.x) > 0.7 ? 'end' : 'start';
    tags.push(
      `<circle cx="${px(x)}" cy="${px(y)}" r="3.5" fill="none" stroke="${pen.paint(TONES[point.tone])}" stroke-width="1.5"/>`,
    );
    if (point.label === '') continue;
    const above = y - 9 > frame.top + 8 ? y - 8 : y + 17;
    tags.push(
      textTag(pen, point.label, x + (anchor === 'end' ? -6 : 6), above, {
        colour: TONES[point.tone],
        anchor,
      }),
    );
  }
  return tags;
}

function stripTags(
  pen: Pen,
  plot: Plot,
  frame: Frame,
  place: Readonly<{ first: boolean; last: boolean; index: number }>,
): string {
  const clip = `${pen.prefix}-clip-${place.index}`;
  const box = `x="${px(frame.left)}" y="${px(frame.top)}" width="${px(frame.width)}" height="${px(frame.height)}"`;
  const unit = plot.y.unit === '' ? '' : `, ${plot.y.unit}`;
  return [
    `<clipPath id="${clip}"><rect ${box}/></clipPath>`,
    `<rect ${box} fill="${pen.paint(SHEET)}"/>`,
    ...bandTags(pen, plot, frame, place.first ? 'labelled' : 'bare'),
    ...gridTags(pen, plot, frame, place.last ? 'bottom' : 'inner'),
    ...seriesTags(pen, plot, frame, clip),
    ...markTags(pen, plot, frame, place.first ? 'labelled' : 'bare'),
    `<rect ${box} fill="none" stroke="${pen.paint(FRAME)}"/>`,
    textTag(pen, `${plot.y.label}${unit}`, 4, frame.top - (place.first ? 19 : 7), { colour: INK }),
  ].join('');
}

/** Room for the direct labels at the right, from the longest of them. */
function rightRoomPx(plots: readonly Plot[]): number {
  const longest = Math.max(
    0,
    ...plots.flatMap((plot) => plot.series.map((series) => series.label.length)),
  );
  return Math.min(210, 36 + Math.ceil(longest * CHARACTER_PX));
}

/**
 * Writes strips that share one x axis as one SVG element.
 *
 * @param plots from top to bottom; the x axis of the last is labelled
 * @param options title and description are read out by screen readers and stay with the picture
 * @returns an `<svg>` element; the same text for the same plots, everywhere
 */
export function svgPlot(plots: readonly Plot[], options: SvgPlotOptions): string {
  const {
    idPrefix,
    title,
    description,
    widthPx = 880,
    stripHeightPx = 150,
    colours = 'variables',
  } = options;
  const prefix = idPrefix.replace(/[^A-Za-z0-9-]/g, '-');
  const paint = ([name, light]: Colour) => (colours === 'plain' ? light : `var(${name}, ${light})`);
  const pen: Pen = { paint, prefix };
  const right = rightRoomPx(plots);
  const heightPx =
    TOP_PX + plots.length * stripHeightPx + Math.max(0, plots.length - 1) * BETWEEN_PX + BOTTOM_PX;
  const strips = plots.map((plot, index) => {
    const top = TOP_PX + index * (stripHeightPx + BETWEEN_PX);
    const frame = { left: LEFT_PX, top, width: widthPx - LEFT_PX - right, height: stripHeightPx };
    return stripTags(pen, plot, frame, {
      first: index === 0,
      last: index === plots.length - 1,
      index,
    });
  });
  const x = plots.at(-1)?.x;
  const xLabel = x === undefined ? '' : `${x.label}${x.unit === '' ? '' : `, ${x.unit}`}`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" class="plot" role="img" viewBox="0 0 ${px(widthPx)} ${px(heightPx)}" width="${px(widthPx)}" height="${px(heightPx)}"`,
    ` font-size="11.5" font-family="IBM Plex Sans, Helvetica Neue, Arial, sans-serif" aria-labelledby="${prefix}-title ${prefix}-desc">`,
    `<title id="${prefix}-title">${escapeMarkup(title)}</title><desc id="${prefix}-desc">${escapeMarkup(description)}</desc>`,
    `<defs><pattern id="${prefix}-gap" width="6" height="6" patternUnits="userSpaceOnUse"><path d="M0 6L6 0" stroke="${paint(TONES.gap)}" stroke-width="0.8"/></pattern></defs>`,
    ...strips,
    textTag(pen, xLabel, LEFT_PX + (widthPx - LEFT_PX - right) / 2, heightPx - 7, {
      colour: INK,
      anchor: 'middle',
    }),
    '</svg>',
  ].join('');
}
