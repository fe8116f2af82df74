import { expect, test } from 'vitest';
import { chartColours } from '@/lib/view/charts/chart-colours';
import { drawOver, drawUnder, type Pen } from '@/lib/view/charts/chart-marks';
import { stripPlot } from '@/lib/view/charts/strip-plot';
import { type ComparedRuns, runBands } from '@/lib/view/timeline-run-bands';
import { stripCatalogue } from '@/lib/view/timeline-strips';

/** A comparison with only what the bands are made of: places in metres, ascending. */
function comparison(flightPassS: readonly (number | null)[]): ComparedRuns {
  const quantity = { name: 'closing_rate', p05: [0.1, 0.2, null], p95: [0.3, 0.4, 0.5] };
  return { runs: 12, groups: [], order: [], flightPassS, quantities: [quantity] };
}

const channel = { key: 'closing_rate', source: null, name: 'closing_rate', as: '', unit: 'm/s' };

test('a band stands at the instants the flight passes the places, in time order', () => {
  expect(runBands(null)).toEqual([]);
  const [band] = runBands(comparison([90, 60, null]));
  expect(band).toEqual({
    quantity: 'closing_rate',
    label: '12 runs',
    words:
      'Grey: 12 simulator runs, 5th to 95th percentile, at each metre as the flight passes it.',
    tS: [60, 90],
    low: [0.2, 0.1],
    high: [0.4, 0.3],
  });
});

test('the band is an area of the strip in its window, fills it and has its label', () => {
  const { strips } = stripCatalogue([channel], [], {
    runs: runBands(comparison([90, 60, null])),
  });
  const [strip] = strips;
  if (strip === undefined) throw new Error('the session has a strip');
  const of = (fromS: number, toS: number) =>
    stripPlot({
      strip,
      window: { fromS, toS },
      timeTickCount: 4,
      answers: [],
      bands: [],
      marks: [],
    });
  expect(of(0, 50).area).toBeNull();
  const drawn = of(0, 100);
  expect(drawn.area).toMatchObject({ x: [60, 90], low: [0.2, 0.1], high: [0.4, 0.3] });
  const corners: number[] = [];
  const texts: string[] = [];
  const nothing = () => undefined;
  const pen: Pen = {
    ...{ save: nothing, restore: nothing, beginPath: nothing, closePath: nothing, rect: nothing },
    ...{ clip: nothing, moveTo: nothing, stroke: nothing, fill: nothing, fillRect: nothing },
    ...{ setLineDash: nothing, fillStyle: '', strokeStyle: '', lineWidth: 1, globalAlpha: 1 },
    ...{ font: '', textAlign: 'left', textBaseline: 'top' },
    lineTo: (x) => corners.push(x),
    fillText: (text) => texts.push(text),
  };
  const colours = chartColours(() => '');
  const box = { left: 0, top: 0, right: 100, bottom: 50 };
  drawUnder(pen, drawn.plot, box, { colours, spreads: [], area: drawn.area });
  expect(corners).toEqual([60, 90, 90, 60]);
  drawOver(pen, drawn.plot, box, { colours, area: drawn.area });
  expect(texts).toEqual(['12 runs']);
});
