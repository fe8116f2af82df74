/** A plot as an enhanced metafile: the tree of its drawing, element by element. */
import { plainText } from '../markup';
import type { Plot } from '../plot';
import type { SvgNode } from '../svg-node';
import { drawPlot, type SvgPlotOptions } from '../svg-plot';
import { type EmfAlign, type EmfPoint, type EmfWriter, emfWriter } from './emf-writer';

const FONT = { face: 'Arial', sizePx: 11.5 } as const;
const SHEET = '#fdfcf8';

/**
 * Widths of U+0020 to U+007E in thousandths of the size of type.
 * Source: Adobe, Core 14 AFM files, Helvetica (1997); Arial has the same. From memory.
 */
const WIDTHS = [
  278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556,
  556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667,
  611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667,
  667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500,
  222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
];
const OTHER_WIDTH = 556;
const MINUS = 0x2212;
const MINUS_WIDTH = 584;

function widthsPx(text: string): readonly number[] {
  return Array.from({ length: text.length }, (_, at) => {
    const code = text.charCodeAt(at);
    const width = code === MINUS ? MINUS_WIDTH : (WIDTHS[code - 32] ?? OTHER_WIDTH);
    return (width / 1000) * FONT.sizePx;
  });
}

/** A colour laid thinly over the sheet: metafiles know no transparency. */
function washed(hex: string, opacity: number): string {
  const part = (colour: string, at: number) => Number.parseInt(colour.slice(at, at + 2), 16);
  const mixed = [1, 3, 5].map((at) => {
    const value = Math.round(part(SHEET, at) + (part(hex, at) - part(SHEET, at)) * opacity);
    return value.toString(16).padStart(2, '0');
  });
  return `#${mixed.join('')}`;
}

/** Runs of points of a path of `M`, `L`, `h` and `v`; absolute capitals, relative small letters. */
function runsOf(d: string): readonly (readonly EmfPoint[])[] {
  const runs: EmfPoint[][] = [];
  let [x, y] = [0, 0];
  for (const [, letter = '', numbers = ''] of d.matchAll(/([MLhv])([^MLhv]*)/g)) {
    const values = numbers
      .trim()
      .split(/[\s,]+/)
      .map(Number);
    if (letter === 'h' || letter === 'v') {
      for (const value of values) {
        if (letter === 'h') x += value;
        else y += value;
        runs.at(-1)?.push([x, y]);
      }
      continue;
    }
    if (letter === 'M') runs.push([]);
    for (let at = 0; at + 1 < values.length; at += 2) {
      [x, y] = [values[at] ?? 0, values[at + 1] ?? 0];
      runs.at(-1)?.push([x, y]);
    }
  }
  // A point that stands alone is a dot as wide as the line.
  return runs.map((run) =>
    run.length === 1 && run[0] !== undefined ? [run[0], [run[0][0] + 0.1, run[0][1]]] : run,
  );
}

/** A line cut into dashes, so that every program draws the same ones. */
function dashed(
  run: readonly EmfPoint[],
  pattern: readonly number[],
): readonly (readonly EmfPoint[])[] {
  const pieces: EmfPoint[][] = [];
  let [index, left, current] = [0, pattern[0] ?? 1, [...run.slice(0, 1)]];
  for (let at = 1; at < run.length; at += 1) {
    let [from, to] = [run[at - 1] ?? [0, 0], run[at] ?? [0, 0]] as [EmfPoint, EmfPoint];
    let length = Math.hypot(to[0] - from[0], to[1] - from[1]);
    while (length > left) {
      const share = left / length;
      from = [from[0] + (to[0] - from[0]) * share, from[1] + (to[1] - from[1]) * share];
      length -= left;
      if (index % 2 === 0) pieces.push([...current, from]);
      current = [from];
      index += 1;
      left = Math.max(0.5, pattern[index % pattern.length] ?? 1);
    }
    left -= length;
    current.push(to);
  }
  if (index % 2 === 0) pieces.push(current);
  return pieces;
}

type Boxes = ReadonlyMap<string, SvgNode>;

function boxesOf(node: SvgNode, found = new Map<string, SvgNode>()): Boxes {
  const [rect] = node.children;
  if (node.tag === 'clipPath' && rect !== undefined) found.set(node.attributes.id ?? '', rect);
  for (const child of node.children) boxesOf(child, found);
  return found;
}

const numberOf = (node: SvgNode, name: string): number => Number(node.attributes[name] ?? 0);

function corners(rect: SvgNode): readonly [EmfPoint, EmfPoint, EmfPoint, EmfPoint] {
  const [x, y] = [numberOf(rect, 'x'), numberOf(rect, 'y')];
  const [right, bottom] = [x + numberOf(rect, 'width'), y + numberOf(rect, 'height')];
  return [
    [x, y],
    [right, y],
    [right, bottom],
    [x, bottom],
  ];
}

const HATCH = { colour: '#666e76', widthPx: 0.8, stepPx: 6 } as const;

/** Thin lines from lower left to upper right, as the pattern of the drawing has them. */
function drawHatch(pen: EmfWriter, points: ReturnType<typeof corners>): void {
  const [[left, top], , [right, bottom]] = points;
  pen.clip([left, top, right, bottom]);
  const height = bottom - top;
  for (let x = left - height; x < right; x += HATCH.stepPx) {
    const ends: readonly EmfPoint[] = [
      [x, bottom],
      [x + height, top],
    ];
    pen.line(ends, HATCH);
  }
  pen.clip(null);
}

function drawStroke(pen: EmfWriter, node: SvgNode, runs: readonly (readonly EmfPoint[])[]): void {
  const colour = node.attributes.stroke ?? 'none';
  if (colour === 'none') return;
  const look = { colour, widthPx: Number(node.attributes['stroke-width'] ?? 1) };
  const pattern = (node.attributes['stroke-dasharray'] ?? '')
    .split(/[\s,]+/)
    .filter((each) => each !== '');
  for (const run of runs) {
    const pieces = pattern.length === 0 ? [run] : dashed(run, pattern.map(Number));
    for (const piece of pieces) pen.line(piece, look);
  }
}

function drawNode(pen: EmfWriter, node: SvgNode, boxes: Boxes): void {
  const { attributes, tag } = node;
  if (tag === 'title' || tag === 'desc' || tag === 'defs' || tag === 'clipPath') return;
  const clip = boxes.get(/^url\(#(.+)\)$/.exec(attributes['clip-path'] ?? '')?.[1] ?? '');
  if (clip !== undefined) {
    const [[left, top], , [right, bottom]] = corners(clip);
    pen.clip([left, top, right, bottom]);
  }
  if (tag === 'rect') {
    const points = corners(node);
    const fill = attributes.fill ?? 'none';
    if (fill.startsWith('url(')) drawHatch(pen, points);
    else if (fill !== 'none') {
      const colour = washed(fill, Number(attributes['fill-opacity'] ?? 1));
      pen.area(points, { colour });
    }
    drawStroke(pen, node, [[...points, points[0]]]);
  }
  if (tag === 'path') drawStroke(pen, node, runsOf(attributes.d ?? ''));
  if (tag === 'circle') {
    const centre = [numberOf(node, 'cx'), numberOf(node, 'cy')] as const;
    const look = {
      colour: attributes.stroke ?? '#1b2530',
      widthPx: Number(attributes['stroke-width'] ?? 1),
    };
    pen.ring(centre, { radiusPx: numberOf(node, 'r'), ...look });
  }
  if (tag === 'text' && node.text !== '') {
    const align: Readonly<Record<string, EmfAlign>> = { middle: 'middle', end: 'end' };
    const text = plainText(node.text);
    const look = {
      colour: attributes.fill ?? '#1b2530',
      align: align[attributes['text-anchor'] ?? ''] ?? 'start',
    };
    pen.word(text, [numberOf(node, 'x'), numberOf(node, 'y')], {
      ...look,
      widthsPx: widthsPx(text),
    });
  }
  for (const child of node.children) drawNode(pen, child, boxes);
  if (clip !== undefined) pen.clip(null);
}

export type EmfPicture = Readonly<{ bytes: Uint8Array; widthPx: number; heightPx: number }>;

/** The plots of one figure, light colours on a sheet. */
export function emfPlot(
  plots: readonly Plot[],
  options: Omit<SvgPlotOptions, 'colours'>,
): EmfPicture {
  const drawn = drawPlot(plots, { ...options, colours: 'plain' });
  const size = { widthPx: numberOf(drawn, 'width'), heightPx: numberOf(drawn, 'height') };
  const pen = emfWriter(size, FONT);
  const { widthPx: w, heightPx: h } = size;
  pen.area(
    [
      [0, 0],
      [w, 0],
      [w, h],
      [0, h],
    ],
    { colour: SHEET },
  );
  const boxes = boxesOf(drawn);
  for (const child of drawn.children) drawNode(pen, child, boxes);
  return { bytes: pen.finish(), ...size };
}
