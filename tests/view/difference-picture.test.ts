import { expect, test } from 'vitest';
import type { PairDifferences, RangePair } from '@/lib/core/reconstruction/navigation-report';
import { differencePicture, pointWords } from '@/lib/view/navigation/difference-picture';
import { thinRows } from '@/lib/view/navigation/thin-points';
import { sampleFigure } from '../support/sample-figure';
import { seededRandom } from '../support/seeded-random';

const pair: RangePair = {
  first: 'telemetry.csv',
  second: 'laser.csv',
  points: { first: null, second: null },
  count: 4,
  independent: 4,
  biasM: sampleFigure(0.12, 'm', 0.01),
  scatterM: sampleFigure(0.03, 'm', 0.002),
  bands: [
    {
      fromM: null,
      toM: 200,
      // 3 and 4 in quadrature are 5.
      biasM: sampleFigure(0.1, 'm', 0.03, { systematic: 0.04 }),
      scatterM: sampleFigure(0.03, 'm', 0.002),
    },
    {
      fromM: 200,
      toM: 100,
      biasM: sampleFigure(-0.2, 'm'),
      scatterM: sampleFigure(0.03, 'm', 0.002),
    },
  ],
};

function differences(count: number, at: (row: number) => number): PairDifferences {
  const rows = Float64Array.from({ length: count }, (_, row) => row);
  return {
    first: pair.first,
    second: pair.second,
    everySample: 1,
    tS: rows,
    rangeM: rows.map((row) => 240 * (1 - row / count)),
    differenceM: rows.map(at),
  };
}

test('a few differences are all drawn, far end left, port right, zero inside', () => {
  const picture = differencePicture(
    pair,
    differences(4, (row) => 0.1 + row / 100),
    2000,
  );
  expect(picture).toMatchObject({
    rangeM: [240, 180, 120, 60],
    differenceM: [0.1, 0.11, 0.12, 0.13],
    tS: [0, 1, 2, 3],
    x: { from: 240, to: 0 },
    drawn: 'All 4 differences are drawn.',
  });
  expect(picture?.y.from).toBeLessThanOrEqual(-0.2);
  expect(picture?.y.to).toBeGreaterThanOrEqual(0.15);
});

test('the bias of each band stands with both parts of its half-width, none where none is known', () => {
  const picture = differencePicture(
    pair,
    differences(4, () => 0),
    2000,
  );
  const [far, near] = picture?.bands ?? [];
  expect(far).toMatchObject({ fromM: 240, toM: 200, biasM: 0.1 });
  expect(far?.halfM).toBeCloseTo(0.05, 12);
  expect(near).toMatchObject({ fromM: 200, toM: 100, biasM: -0.2, halfM: null });
});

test('a point says its difference, range, time and the bias of its band', () => {
  const picture = differencePicture(
    pair,
    differences(4, (row) => (row === 1 ? -0.1234 : 0)),
    2000,
  );
  if (picture === null) throw new Error('there are differences');
  expect(pointWords(picture, 1)).toEqual([
    'difference −0.123 m',
    'range 180.000 m',
    'at 00:00:01.0',
    'bias 100 to 200 m: −0.200 m',
  ]);
  expect(pointWords(picture, 0)[3]).toBe('bias 200 to 240 m: +0.100 ± 0.050 m');
});

test('without differences there is no picture', () => {
  expect(differencePicture(pair, undefined, 2000)).toBeNull();
  expect(
    differencePicture(
      pair,
      differences(0, () => 0),
      2000,
    ),
  ).toBeNull();
});

test('thinned differences keep the largest and the smallest, wherever they lie, and say so', () => {
  const random = seededRandom(5);
  for (let turn = 0; turn < 20; turn++) {
    const up = Math.floor(random() * 4000);
    const down = (up + 1 + Math.floor(random() * 3998)) % 4000;
    const found = differences(4000, (row) => (row === up ? 9 : row === down ? -9 : random()));
    const picture = differencePicture(pair, { ...found, everySample: 25 }, 2000);
    expect(picture?.differenceM.length).toBeLessThanOrEqual(2000);
    expect(picture?.differenceM).toContain(9);
    expect(picture?.differenceM).toContain(-9);
    expect(picture?.drawn).toMatch(
      /^1\D?\d{3} of 4\D?000 differences are drawn: some evenly apart, and the smallest and the largest of each of 200 .*Of the samples of laser.csv one in 25 is counted\.$/,
    );
  }
});

test('a thinned scatter is as dense where it was: extremes are a fifth of it at most', () => {
  const values = Float64Array.from({ length: 3000 }, (_, row) => Math.sin(row * row));
  const { rows, parts } = thinRows(values, 1000);
  expect(parts).toBe(100);
  // 800 of 3000 evenly apart: rows 0, 3, 7 and 11 of every fifteen.
  const kept = new Set(rows);
  for (let row = 0; row < 3000; row += 15)
    expect([0, 3, 7, 11].every((beside) => kept.has(row + beside))).toBe(true);
  expect(rows.length).toBeLessThanOrEqual(1000);
  expect(rows).toEqual([...new Set(rows)].sort((a, b) => a - b));
});
