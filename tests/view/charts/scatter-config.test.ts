import { Chart, LinearScale, LineElement, PointElement, ScatterController } from 'chart.js';
import { expect, test } from 'vitest';
import { axisRatio } from '@/lib/core/debrief/plot';
import { chartColours } from '@/lib/view/charts/chart-colours';
import { scatterConfig } from '@/lib/view/charts/scatter-config';
import type { DifferencePicture } from '@/lib/view/navigation/difference-picture';

Chart.register(ScatterController, LineElement, PointElement, LinearScale);

const picture: DifferencePicture = {
  x: {
    label: 'range',
    unit: 'm',
    from: 240,
    to: 0,
    ticks: [0, 100, 200].map((at) => ({ at, text: `${at}.` })),
  },
  y: {
    label: 'difference',
    unit: 'm',
    from: -0.2,
    to: 0.4,
    ticks: [-0.2, 0, 0.2, 0.4].map((at) => ({ at, text: at.toFixed(1) })),
  },
  rangeM: [239, 120, 3],
  differenceM: [0.3, -0.1, 0],
  tS: [0, 1, 2],
  decimals: 2,
  bands: [
    { fromM: 240, toM: 100, biasM: 0.2, halfM: 0.1, words: '' },
    { fromM: 100, toM: 50, biasM: 0.1, halfM: null, words: '' },
  ],
  label: '',
  drawn: '',
};

/** A canvas that draws nothing and measures every letter alike: enough for scales and points. */
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
    width: 900,
    height: 320,
    style: {},
    getAttribute: (name: string) => (name === 'height' ? 320 : 900),
    setAttribute: () => {},
    removeAttribute: () => {},
    addEventListener: () => {},
    removeEventListener: () => {},
    getContext: () => context,
  };
  state.canvas = canvas;
  return canvas as unknown as HTMLCanvasElement;
}

const config = scatterConfig(
  picture,
  chartColours((name) => name),
);
const chart = new Chart(blankCanvas(), {
  ...config,
  options: { ...config.options, responsive: false, events: [] },
});

function scaleOf(id: string) {
  const scale = chart.scales[id];
  if (scale === undefined) throw new Error(`no scale ${id}`);
  return scale;
}

test('scales and ticks are those of the picture, the far end at the left', () => {
  const { left, right, top, bottom } = chart.chartArea;
  for (const [id, axis, from, to] of [
    ['x', picture.x, left, right],
    ['y', picture.y, bottom, top],
  ] as const) {
    const scale = scaleOf(id);
    expect(scale.ticks.map((tick) => [tick.value, tick.label])).toEqual(
      axis.ticks.map((tick) => [tick.at, tick.text]),
    );
    for (const { at } of axis.ticks)
      expect((scale.getPixelForValue(at) - from) / (to - from)).toBeCloseTo(axisRatio(axis, at), 6);
  }
  expect(scaleOf('x').getPixelForValue(240)).toBeLessThan(scaleOf('x').getPixelForValue(0));
});

test('each point stands at its range and difference', () => {
  const points = chart.getDatasetMeta(0).data;
  expect(points).toHaveLength(picture.rangeM.length);
  points.forEach((point, index) => {
    expect(scaleOf('x').getValueForPixel(point.x)).toBeCloseTo(picture.rangeM[index] ?? NaN, 6);
    expect(scaleOf('y').getValueForPixel(point.y)).toBeCloseTo(
      picture.differenceM[index] ?? NaN,
      6,
    );
  });
});

test('bias, interval and zero are lines of their own dash; an unknown interval has no edge', () => {
  const [, bias, upper, lower, zero] = chart.data.datasets;
  expect(bias?.data.slice(0, 2)).toEqual([
    { x: 240, y: 0.2 },
    { x: 100, y: 0.2 },
  ]);
  const ends = [upper, lower].map((edge) => edge?.data.map(({ y }) => y));
  expect(ends[0]?.[0]).toBeCloseTo(0.3, 12);
  expect(ends[1]?.[0]).toBeCloseTo(0.1, 12);
  expect(ends.map((edge) => edge?.[3])).toEqual([NaN, NaN]);
  const dashes = [bias, upper, zero].map((each) =>
    JSON.stringify((each as { borderDash?: number[] }).borderDash ?? []),
  );
  expect(new Set(dashes).size).toBe(3);
});
