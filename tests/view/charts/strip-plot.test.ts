import { describe, expect, test } from 'vitest';
import type { EnvelopeAnswer } from '@/lib/view/charts/envelope-wire';
import { stripPlot } from '@/lib/view/charts/strip-plot';
import { readStripAt } from '@/lib/view/charts/strip-reading';
import type { Strip } from '@/lib/view/timeline-strips';

const strip: Strip = {
  id: 'range',
  label: 'Range',
  group: 'derived',
  unit: 'm',
  siUnit: 'm',
  fromSi: 1,
  decimals: 2,
  series: [
    { key: 'range', label: 'estimated', role: 'measured', colour: 1, dash: 'solid' },
    { key: 'limit.a', label: 'limit', role: 'limit', colour: 2, dash: 'dash' },
  ],
};

type Bin = readonly [tS: number, low: number, high: number];

function answer(
  bins: readonly Bin[],
  limit: number,
  parts: Partial<EnvelopeAnswer> = {},
): EnvelopeAnswer {
  const column = (key: string, low: (bin: Bin) => number, high: (bin: Bin) => number) => ({
    key,
    unit: 'm',
    stepS: 0.1,
    minimum: Float64Array.from(bins, low),
    maximum: Float64Array.from(bins, high),
  });
  return {
    fromS: 0,
    toS: 10,
    pixels: 10,
    exact: true,
    missing: [],
    groups: [
      {
        tS: Float64Array.from(bins, ([tS]) => tS),
        columns: [
          column(
            'range',
            ([, low]) => low,
            ([, , high]) => high,
          ),
          column(
            'limit.a',
            () => limit,
            () => limit,
          ),
        ],
      },
    ],
    ...parts,
  };
}

const flat: readonly Bin[] = Array.from({ length: 10 }, (_, index) => [index + 0.5, 1, 1] as const);

function plotOf(answers: readonly EnvelopeAnswer[], window = { fromS: 0, toS: 10 }) {
  return stripPlot({ strip, window, timeTickCount: 5, answers, bands: [], marks: [] });
}

describe('a strip from an envelope', () => {
  test('a spike inside one pixel keeps its full height', () => {
    const bins = flat.map((bin, index): Bin => (index === 4 ? [4.5, 1, 7] : bin));
    const { plot } = plotOf([answer(bins, 2)]);
    expect(plot.series[0]?.y).toContain(7);
    expect(plot.y.to).toBeGreaterThanOrEqual(7);
  });

  test('pixels without a sample are a gap once they are longer than five steps', () => {
    const bins = flat.map(
      (bin, index): Bin => (index === 4 || index === 5 ? [bin[0], NaN, NaN] : bin),
    );
    expect(plotOf([answer(bins, 2)]).plot.series[0]?.y.filter((y) => y === null).length).toBe(1);
  });

  test('pixels between the samples of a slow recorder are no gap', () => {
    // One sample in three pixels of 0.1 s: steps of 0.3 s.
    const bins: Bin[] = Array.from({ length: 30 }, (_, index) => {
      const value = index % 3 === 0 ? 1 : Number.NaN;
      return [index * 0.1 + 0.05, value, value];
    });
    const slow = answer(bins, 2, { toS: 3, pixels: 30 });
    const own = slow.groups.map((group) => ({
      ...group,
      columns: group.columns.map((column) => ({ ...column, stepS: 0.3 })),
    }));
    const { plot } = plotOf([{ ...slow, groups: own }], { fromS: 0, toS: 3 });
    expect(plot.series[0]?.y).toEqual(new Array(10).fill(1));
  });

  test('rows at the very ends of the window are inside the axis', () => {
    // A bin stands by its middle: the rows at 0 and 3 s lie half a pixel outside.
    const bins: Bin[] = [0, 1, 2, 3].map((tS) => [
      tS === 0 ? -0.001 : tS + 0.001,
      20 - tS,
      20 - tS,
    ]);
    const { plot } = plotOf([answer(bins, 19, { toS: 3, pixels: 1280 })], { fromS: 0, toS: 3 });
    expect([plot.y.from, plot.y.to]).toEqual([17, 20]);
  });

  test('a limit near the trace stretches the axis, a far one does not', () => {
    expect(plotOf([answer(flat, 1.5)]).plot.y.to).toBeGreaterThanOrEqual(1.5);
    expect(plotOf([answer(flat, 500)]).plot.y.to).toBeLessThan(10);
  });

  test('the finest answer that covers the window is drawn, a coarse one until it arrives', () => {
    const coarse = answer(flat, 2, { fromS: 0, toS: 100, pixels: 10 });
    const fine = answer(
      flat.map(([tS]): Bin => [tS, 3, 3]),
      2,
    );
    expect(plotOf([coarse]).plot.series[0]?.y[0]).toBe(1);
    expect(plotOf([coarse, fine]).plot.series[0]?.y[0]).toBe(3);
    expect(plotOf([fine, coarse]).plot.series[0]?.y[0]).toBe(3);
  });

  test('a column the store does not hold is named, and the rest is drawn', () => {
    const bare = { ...answer(flat, 2), groups: [] };
    expect(plotOf([bare]).missing).toEqual(['range', 'limit.a']);
    expect(plotOf([bare]).hasValues).toBe(false);
  });

  test('the cursor reads both ends of a pixel and nothing inside a gap', () => {
    const bins = flat.map(
      (bin, index): Bin => (index === 4 ? [4.5, 1, 7] : index === 8 ? [8.5, NaN, NaN] : bin),
    );
    const [series] = strip.series;
    if (series === undefined) throw new Error('the strip has a series');
    const at = (tS: number) =>
      readStripAt([answer(bins, 2)], series, { tS, window: { fromS: 0, toS: 10 }, fromSi: 2 });
    expect(at(4.6)).toEqual({ low: 2, high: 14 });
    expect(at(8.5)).toBeNull();
  });

  test('the cursor outside the window reads the finest answer that reaches it', () => {
    const [series] = strip.series;
    if (series === undefined) throw new Error('the strip has a series');
    const times = (toS: number, value: number) =>
      Array.from({ length: toS }, (_, index): Bin => [index + 0.5, value, value]);
    const whole = answer(times(100, 1), 1, { fromS: 0, toS: 100, pixels: 100 });
    const part = answer(times(20, 5), 1, { fromS: 0, toS: 20, pixels: 200 });
    const at = (tS: number) => {
      const window = { fromS: 30, toS: 40 };
      return readStripAt([whole, part], series, { tS, window, fromSi: 1 })?.low;
    };
    expect(at(90.5)).toBe(1);
    expect(at(10.5)).toBe(5);
    expect(at(0.5)).toBe(5);
    expect(at(99.5)).toBe(1);
    expect(at(150)).toBeUndefined();
  });
});
