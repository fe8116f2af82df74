import { expect, test } from 'vitest';
import { svgPlot } from '@/lib/core/debrief/svg-plot';
import { tracePlots, usualChannels } from '@/lib/core/debrief/trace-plots';
import { sampleDerived } from '../../support/sample-derived';
import { sampleReconstruction } from '../../support/sample-reconstruction';

const plots = tracePlots(sampleReconstruction, sampleDerived, {
  idPrefix: 'fig1',
  channels: usualChannels(sampleReconstruction, sampleDerived).channels,
  fromS: 0,
  toS: 930,
});
const words = { idPrefix: 'fig1', title: 'Approach', description: 'Three strips.' };

test('a plan stands in the strip of its quantity, and traces of a strip differ in dash', () => {
  expect(plots.map((plot) => plot.series.map((series) => series.id))).toEqual([
    ['range'],
    ['closing_rate', 'planned_closing_rate', 'limit.closing-rate'],
    ['lateral_offset', 'limit.corridor'],
  ]);
  expect(new Set(plots[1]?.series.map((series) => series.dash)).size).toBe(3);
});

test('the picture carries no style, no script and nothing to fetch', () => {
  const svg = svgPlot(plots, words);
  expect(svg).not.toMatch(/\sstyle=|<style|<script|href=|\son[a-z]+=/);
  expect(svg).toContain('<title id="fig1-title">Approach</title>');
  expect(svg).toContain('stroke="var(--series-1, #0072b2)"');
  expect(svgPlot(plots, { ...words, colours: 'plain' })).not.toContain('var(');
});

test('every tick of the model is written, and every trace has a direct label', () => {
  const svg = svgPlot(plots, words);
  for (const tick of plots.at(-1)?.x.ticks ?? []) expect(svg).toContain(`>${tick.text}</text>`);
  for (const plot of plots) {
    for (const series of plot.series) expect(svg).toContain(`>${series.label}</text>`);
  }
});

test('every band is named: by its words where there is room, else by a letter, and by a swatch', () => {
  const svg = svgPlot(plots, words);
  for (const text of ['hold', 'closing', 'opening', 'beyond a limit', 'no data']) {
    expect(svg).toContain(`>${text}</text>`);
  }
  const [first] = plots;
  const named = (first?.bands ?? []).filter(({ label }) => label !== '');
  expect(named.length).toBeGreaterThan(3);
  for (const { label } of named)
    expect(svg).toMatch(new RegExp(`>(?:[a-z]\\d? = )?${label}</text>`));
  const letters = [...svg.matchAll(/>([a-z]\d?) = /g)].map(([, letter]) => letter);
  expect(letters.length).toBeGreaterThan(0);
  for (const letter of letters) expect(svg).toContain(`>${letter}</text>`);
});

test('a picture without bands has no legend', () => {
  const bare = plots.map((plot) => ({ ...plot, bands: [] }));
  const height = (svg: string) => Number(/ height="(\d+)"/.exec(svg)?.[1]);
  expect(height(svgPlot(bare, words))).toBeLessThan(height(svgPlot(plots, words)));
  expect(svgPlot(bare, words)).not.toContain('beyond a limit');
});

test('a gap breaks the line', () => {
  const svg = svgPlot(plots, words);
  const path = /<path class="plot-series" d="([^"]+)"/.exec(svg)?.[1] ?? '';
  expect(path.match(/M/g)?.length).toBe(2);
});

test('text from a file cannot become markup', () => {
  const hostile = plots.map((plot) => ({
    ...plot,
    series: plot.series.map((series) => ({ ...series, label: '</text><script>alert(1)</script>' })),
  }));
  const svg = svgPlot(hostile, {
    ...words,
    title: '"><img src=x onerror=alert(1)>',
    idPrefix: '" onload="x',
  });
  expect(svg).not.toMatch(/<script|<img| onload=/);
});

test('the same plots give the same text', () => {
  expect(svgPlot(plots, words)).toBe(svgPlot(structuredClone(plots), words));
});
