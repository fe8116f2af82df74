import { Chart, LinearScale, LineController, LineElement, PointElement } from 'chart.js';
import { expect, test } from 'vitest';
import { axisRatio, type Plot } from '@/lib/core/debrief/plot';
import { svgPlot } from '@/lib/core/debrief/svg-plot';
import { chartColours } from '@/lib/view/charts/chart-colours';
import { chartConfig, PLOT_PAD_PX } from '@/lib/view/charts/chart-config';
import { drawOver, drawUnder, type Pen } from '@/lib/view/charts/chart-marks';
import { stripPlot } from '@/lib/view/charts/strip-plot';
import { AXIS_WIDTH_PX, MARGIN_RIGHT_PX } from '@/lib/view/charts/time-window';
import { stripCatalogue } from '@/lib/view/timeline-strips';
import { sampleDerived, sampleRules } from '../../support/sample-reconstruction';

Chart.register(LinearScale, LineController, LineElement, PointElement);

const colours = chartColours((name) => name);
const WIDTH = 900;
const HEIGHT = 150;

function samplePlot(): Plot {
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
        groups: [
          {
            tS: sampleDerived.tS,
            columns: sampleDerived.columns.map((column) => ({
              key: column.name,
              unit: column.unit,
              stepS: 1,
              minimum: column.values,
              maximum: column.values,
            })),
          },
        ],
      },
    ],
    bands: [{ along: 'x', from: 260, to: 285, tone: 'gap', label: '' }],
    marks: [{ at: 796.3, tone: 'contact', label: 'contact' }],
  }).plot;
}

/** A canvas that draws nothing and measures every letter alike: enough for scales and ticks. */
function blankCanvas(): HTMLCanvasElement {
  const state: Record<string, unknown> = { measureText: () => ({ width: 40 }) };
  const context = new Proxy(state, {
    get: (target, name) => (typeof name === 'string' && name in target ? target[name] : () => {}),
    set: (target, name, value) => {
      if (typeof name === 'string') target[name] = value;
      return true;
    },
  });
  const canvas = {
    width: WIDTH,
    height: HEIGHT,
    style: {},
    getAttribute: (name: string) => (name === 'height' ? HEIGHT : WIDTH),
    setAttribute: () => {},
    removeAttribute: () => {},
    addEventListener: () => {},
    removeEventListener: () => {},
    getContext: () => context,
  };
  state.canvas = canvas;
  return canvas as unknown as HTMLCanvasElement;
}

function drawn(plot: Plot): Chart<'line', { x: number; y: number }[]> {
  return new Chart(blankCanvas(), chartConfig(plot, colours));
}

test('the chart and the SVG of one plot agree on scales, ticks and where each tick lies', () => {
  const plot = samplePlot();
  const chart = drawn(plot);
  const svg = svgPlot([plot], { idPrefix: 't', title: 't', description: 'd' });
  for (const [id, axis] of [
    ['x', plot.x],
    ['y', plot.y],
  ] as const) {
    const scale = chart.scales[id];
    if (scale === undefined) throw new Error(`no scale ${id}`);
    expect([scale.min, scale.max]).toEqual([axis.from, axis.to]);
    expect(scale.ticks.map((tick) => [tick.value, tick.label])).toEqual(
      axis.ticks.map((tick) => [tick.at, tick.text]),
    );
    const { left, right, top, bottom } = chart.chartArea;
    const [from, to] = id === 'x' ? [left, right] : [bottom, top];
    for (const tick of axis.ticks) {
      expect(svg).toContain(`>${tick.text}</text>`);
      // The SVG places a value by the same ratio of its own box.
      const ratio = (scale.getPixelForValue(tick.at) - from) / (to - from);
      expect(ratio).toBeCloseTo(axisRatio(axis, tick.at), 6);
    }
  }
});

test('every plot stands between the same edges, whatever its numbers', () => {
  const chart = drawn(samplePlot());
  expect(chart.chartArea).toMatchObject({
    left: AXIS_WIDTH_PX,
    right: WIDTH - MARGIN_RIGHT_PX,
    top: PLOT_PAD_PX,
    bottom: HEIGHT - PLOT_PAD_PX,
  });
});

test('both renderers draw the same series, and a gap is a gap in both', () => {
  const plot = samplePlot();
  const chart = drawn(plot);
  expect(chart.data.datasets.map((each) => each.label)).toEqual(
    plot.series.map((series) => series.label),
  );
  const svg = svgPlot([plot], { idPrefix: 't', title: 't', description: 'd' });
  const paths = [...svg.matchAll(/class="plot-series" d="([^"]*)"/g)].map(
    (match) => match[1] ?? '',
  );
  plot.series.forEach((series, index) => {
    const runs = (paths[index]?.match(/M/g) ?? []).length;
    const data = chart.data.datasets[index]?.data ?? [];
    const starts = data.filter((point, at) => {
      return !Number.isNaN(point.y) && (at === 0 || Number.isNaN(data[at - 1]?.y ?? Number.NaN));
    });
    expect(starts.length, series.label).toBe(runs);
  });
});

test('a mark lies on the chart where it lies in the SVG', () => {
  const plot = samplePlot();
  const box = { left: 56, top: 7, right: 776, bottom: 143 };
  const lines: number[] = [];
  const recorder: Record<string, unknown> = {};
  const pen = new Proxy(recorder, {
    get: (target, name) => {
      if (name === 'moveTo') return (x: number) => lines.push(x);
      return typeof name === 'string' && name in target ? target[name] : () => {};
    },
    set: () => true,
  }) as unknown as Pen;
  drawUnder(pen, plot, box, { colours, spreads: [] });
  lines.length = 0;
  drawOver(pen, plot, box, { colours });
  const expected = 56 + axisRatio(plot.x, 796.3) * (776 - 56);
  expect(lines.some((x) => Math.abs(x - expected) <= 1)).toBe(true);
});
