import { expect, test } from 'vitest';
import { axisRatio, type Plot } from '@/lib/core/debrief/plot';
import { svgPlot } from '@/lib/core/debrief/svg-plot';
import { chartColours } from '@/lib/view/charts/chart-colours';
import { drawStrip, type StripPen, stripBox } from '@/lib/view/charts/strip-drawing';
import { type StripPlot, stripPlot } from '@/lib/view/charts/strip-plot';
import { AXIS_WIDTH_PX, MARGIN_RIGHT_PX } from '@/lib/view/charts/time-window';
import { stripCatalogue } from '@/lib/view/timeline-strips';
import { sampleDerived } from '../../support/sample-derived';
import { sampleRules } from '../../support/sample-plan';

const colours = chartColours((name) => name);
const SIZE = { widthPx: 900, heightPx: 150 };
const BOX = stripBox(SIZE);

function sampleStrip(values?: (name: string) => Float64Array | undefined): StripPlot {
  const channels = sampleDerived.columns.map((column) => ({
    key: column.name,
    source: null,
    name: column.name,
    as: column.name,
    unit: column.unit,
  }));
  const strip = stripCatalogue(channels, sampleRules).strips.find(
    (each) => each.id === 'closing_rate',
  );
  if (strip === undefined) throw new Error('the sample has a closing rate');
  const columns = sampleDerived.columns.map((column) => {
    const own = values?.(column.name) ?? column.values;
    return { key: column.name, unit: column.unit, stepS: 1, minimum: own, maximum: own };
  });
  return stripPlot({
    strip,
    window: { fromS: 100, toS: 820 },
    timeTickCount: 7,
    answers: [
      {
        fromS: 100,
        toS: 820,
        pixels: 720,
        exact: true,
        missing: [],
        groups: [{ tS: sampleDerived.tS, columns }],
      },
    ],
    bands: [{ along: 'x', from: 260, to: 285, tone: 'gap', label: '' }],
    marks: [{ at: 796.3, tone: 'contact', label: 'contact' }],
  });
}

type Stroke = Readonly<{ colour: string; runs: (readonly [x: number, y: number])[][] }>;
type Rect = Readonly<{ colour: string; left: number; top: number; width: number; height: number }>;
type Drawn = Readonly<{
  strokes: Stroke[];
  rects: Rect[];
  texts: Map<string, readonly [x: number, y: number]>;
}>;

/** What is put on the canvas: lines with their colour, texts with their place. */
function drawn(strip: StripPlot): Drawn {
  const result: Drawn = { strokes: [], rects: [], texts: new Map() };
  let runs: (readonly [number, number])[][] = [];
  const state: Record<string, unknown> = {
    beginPath: () => {
      runs = [];
    },
    moveTo: (x: number, y: number) => runs.push([[x, y]]),
    lineTo: (x: number, y: number) => runs.at(-1)?.push([x, y]),
    stroke: () => result.strokes.push({ colour: String(state.strokeStyle), runs }),
    fillRect: (left: number, top: number, width: number, height: number) =>
      result.rects.push({ colour: String(state.fillStyle), left, top, width, height }),
    fillText: (text: string, x: number, y: number) => result.texts.set(text, [x, y]),
  };
  const pen = new Proxy(state, {
    get: (target, name) => (typeof name === 'string' && name in target ? target[name] : () => {}),
  });
  drawStrip(pen as unknown as StripPen, { strip, colours, ...SIZE });
  return result;
}

function linesOf(strip: StripPlot): readonly Stroke[] {
  const { strokes } = drawn(strip);
  return strip.plot.series.map(({ colour, label }) => {
    const found = strokes.find((stroke) => stroke.colour === colours.series[colour]);
    if (found === undefined) throw new Error(`${label} is not drawn`);
    return found;
  });
}

function svgOf(plot: Plot): string {
  return svgPlot([plot], { idPrefix: 't', title: 't', description: 'd' });
}

const expectedX = (plot: Plot, at: number): number =>
  BOX.left + axisRatio(plot.x, at) * (BOX.right - BOX.left);
const expectedY = (plot: Plot, at: number): number =>
  BOX.bottom + axisRatio(plot.y, at) * (BOX.top - BOX.bottom);

test('the strip and the SVG of one plot agree on ticks and where each tick lies', () => {
  const strip = sampleStrip();
  const { plot } = strip;
  const { strokes, texts } = drawn(strip);
  const svg = svgOf(plot);
  const grid = strokes.find((stroke) => stroke.colour === colours.graticule);
  for (const tick of plot.y.ticks) {
    expect(svg).toContain(`>${tick.text}</text>`);
    expect(texts.get(tick.text)?.[1]).toBeCloseTo(expectedY(plot, tick.at), 6);
  }
  for (const tick of plot.x.ticks) {
    expect(svg).toContain(`>${tick.text}</text>`);
    const isDrawn = grid?.runs.some(([start]) => {
      return Math.abs((start?.[0] ?? Number.NaN) - expectedX(plot, tick.at)) <= 1;
    });
    expect(isDrawn, tick.text).toBe(true);
  }
  expect(grid?.runs).toHaveLength(plot.x.ticks.length + plot.y.ticks.length);
});

test('every plot stands between the same edges, whatever its numbers', () => {
  const far = sampleStrip((name) =>
    name === 'closing_rate' ? sampleDerived.tS.map((tS) => 1e6 * tS) : undefined,
  );
  for (const strip of [sampleStrip(), far]) {
    const frame = drawn(strip).strokes.find((stroke) => stroke.colour === colours.frame);
    const xs = frame?.runs.flat().map(([x]) => x) ?? [];
    expect(Math.abs(Math.min(...xs) - AXIS_WIDTH_PX)).toBeLessThanOrEqual(1);
    expect(Math.abs(Math.max(...xs) - (SIZE.widthPx - MARGIN_RIGHT_PX))).toBeLessThanOrEqual(1);
  }
});

test('both renderers draw the same series, and a gap is a gap in both', () => {
  const strip = sampleStrip();
  const paths = [...svgOf(strip.plot).matchAll(/class="plot-series" d="([^"]*)"/g)].map(
    (match) => match[1] ?? '',
  );
  const lines = linesOf(strip);
  expect(lines).toHaveLength(paths.length);
  lines.forEach((line, index) => {
    expect(line.runs.length).toBe((paths[index]?.match(/M/g) ?? []).length);
  });
});

test('each value of a series stands where the axes put it', () => {
  const strip = sampleStrip();
  const { plot } = strip;
  const series = plot.series[0];
  if (series === undefined) throw new Error('a series');
  const wanted = series.x.flatMap((x, index) => {
    const y = series.y[index] ?? null;
    return y === null ? [] : [[expectedX(plot, x), expectedY(plot, y)] as const];
  });
  const points = linesOf(strip)[0]?.runs.flat() ?? [];
  expect(points).toHaveLength(wanted.length);
  const off = points.map(([x, y], index) =>
    Math.max(Math.abs(x - (wanted[index]?.[0] ?? 1e9)), Math.abs(y - (wanted[index]?.[1] ?? 1e9))),
  );
  expect(Math.max(...off)).toBeLessThan(1e-6);
});

test('a value between two gaps is a dot', () => {
  const lone = sampleStrip((name) =>
    name === 'closing_rate'
      ? sampleDerived.tS.map((tS) => (Math.abs(tS - 300) < 0.5 ? 0.2 : Number.NaN))
      : undefined,
  );
  const [run, ...others] = linesOf(lone)[0]?.runs ?? [];
  expect(others).toHaveLength(0);
  expect(run).toHaveLength(2);
  expect(Math.abs((run?.[1]?.[0] ?? 0) - (run?.[0]?.[0] ?? 9))).toBeLessThan(1);
});

test('a dense trace is drawn as columns that hide no value and leave no gap between two', () => {
  const spike = 417;
  const noisy = sampleStrip((name) =>
    name === 'closing_rate'
      ? sampleDerived.tS.map((tS) => (tS === spike ? 0.9 : 0.3 * Math.sin(tS * 1.7)))
      : undefined,
  );
  const { plot } = noisy;
  const series = plot.series[0];
  if (series === undefined) throw new Error('a series');
  // Each pixel from its least to its greatest value, as an envelope has it.
  const x = series.x.flatMap((at) => [at, at]);
  const y = series.y.flatMap((value) => (value === null ? [null, null] : [value - 0.2, value]));
  const dense = { ...noisy, plot: { ...plot, series: [{ ...series, x, y }] } };
  const colour = colours.series[series.colour];
  const columns = drawn(dense).rects.filter(
    (rect) => rect.colour === colour && rect.left <= BOX.right && rect.width < 5,
  );
  y.forEach((value, index) => {
    const at = x[index] ?? Number.NaN;
    if (value === null || at < plot.x.from || at > plot.x.to) return;
    const [px, py] = [expectedX(plot, at), expectedY(plot, value)];
    const isCovered = columns.some(
      ({ left, top, width, height }) =>
        px >= left - 1e-6 && px <= left + width + 1e-6 && py >= top && py <= top + height,
    );
    expect(isCovered, `${value} at ${at} s`).toBe(true);
  });
  for (const [index, column] of columns.slice(1).entries()) {
    const before = columns[index];
    if (before === undefined || before.left + before.width !== column.left) continue;
    expect(column.top).toBeLessThanOrEqual(before.top + before.height);
    expect(column.top + column.height).toBeGreaterThanOrEqual(before.top);
  }
});

test('a mark lies on the strip where it lies in the SVG', () => {
  const strip = sampleStrip();
  const marks = drawn(strip).strokes.filter(
    (stroke) => stroke.colour === colours.tones.contact && stroke.runs.length === 1,
  );
  const x = marks[0]?.runs[0]?.[0]?.[0] ?? Number.NaN;
  expect(Math.abs(x - expectedX(strip.plot, 796.3))).toBeLessThanOrEqual(1);
});
