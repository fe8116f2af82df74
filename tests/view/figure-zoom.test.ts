import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { FIGURE_ZOOM } from '@/lib/core/debrief/html/figure-zoom-script';
import type { Plot } from '@/lib/core/debrief/plot';
import { figuresIn } from '@/lib/view/debrief/figure-zoom';
import { moved, plotsIn, WHOLE, zoomed } from '@/lib/view/debrief/zoom-window';

const plot: Plot = {
  id: 'p',
  x: { label: 'Range', unit: 'm', from: 100, to: 0, ticks: [] },
  y: { label: 'Closing rate', unit: 'm/s', from: 0, to: 1, ticks: [] },
  series: [
    {
      id: 's',
      label: 's',
      colour: 1,
      dash: 'solid',
      x: [100, 60, 50, 40, 0],
      y: [1, 0.3, 0.2, 0.3, 0],
    },
  ],
  bands: [],
  marks: [],
  points: [],
};

test('a window is enlarged about a place, moved along, and never leaves the whole', () => {
  expect(zoomed(WHOLE, 2, 0.5)).toEqual({ left: 0.25, right: 0.75 });
  expect(zoomed(WHOLE, 4, 1)).toEqual({ left: 0.75, right: 1 });
  expect(zoomed({ left: 0.25, right: 0.75 }, 0.1, 0.5)).toEqual(WHOLE);
  expect(moved({ left: 0.25, right: 0.75 }, 0.25)).toEqual({ left: 0.375, right: 0.875 });
  expect(moved({ left: 0.25, right: 0.75 }, -9)).toEqual({ left: 0, right: 0.5 });
  const least = zoomed(WHOLE, 1e9, 0.5);
  expect(least.right - least.left).toBeGreaterThan(0.001);
});

test('a strip over a part has the part of its axis, its ticks, and the values seen there', () => {
  expect(plotsIn([plot], WHOLE)[0]).toBe(plot);
  const [near] = plotsIn([plot], { left: 0.4, right: 0.6 });
  expect([near?.x.from, near?.x.to]).toEqual([60, 40]);
  for (const { at } of near?.x.ticks ?? []) expect(at >= 40 && at <= 60).toBe(true);
  expect(near?.x.ticks.length).toBeGreaterThan(3);
  expect(near?.y.to).toBeLessThan(1.1);
  expect(near?.series).toBe(plot.series);
});

test('figures of a record are found wherever they stand', () => {
  const figure = { kind: 'figure', id: 'fig-1', plots: [plot] };
  const blocks = [
    { kind: 'quote', blocks: [figure] },
    { kind: 'list', items: [[figure]] },
    null,
    3,
  ];
  expect(figuresIn(blocks)).toEqual([figure, figure]);
});

/** The text is kept in the repository: made again from its sources it must be the same. */
test('the script of an exported page is that of its sources (node lib/cli/build-zoom.mjs)', async () => {
  const { zoomModule } = await import('@/lib/cli/build-zoom.mjs');
  const place = path.join(import.meta.dirname, '../../lib/core/debrief/html/figure-zoom-script.ts');
  expect(readFileSync(place, 'utf8')).toBe(await zoomModule());
  expect(FIGURE_ZOOM).not.toMatch(
    /<\/|<!--|fetch\(|XMLHttpRequest|https?:\/\/(?!www\.w3\.org\/2000\/svg)/,
  );
});
