import { expect, test } from 'vitest';
import { widenBesideRamps } from '@/lib/core/motion/beside-ramps';
import type { RampCluster } from '@/lib/core/motion/ramp-errors';
import { takeSamples } from '@/lib/core/series/samples';

const tS = Float64Array.from({ length: 401 }, (_, k) => k);
const position = takeSamples(tS, tS.slice(), null);
const cluster: RampCluster = {
  ramps: [{ atS: 200, lastsS: 10, sizeMps: 0.1 }],
  fromS: 198,
  toS: 212,
  covariance: new Float64Array(25),
  unknowns: 5,
  keep: 0,
  middleS: 205,
};

function widened(clusters: readonly RampCluster[]): Float64Array {
  const line = {
    value: tS,
    slope: tS,
    sd: tS,
    slopeSd: new Float64Array(401).fill(1),
    jumpsS: new Float64Array(0),
  };
  const halfSpanS = new Float64Array(401).fill(20);
  widenBesideRamps(line, clusters, [{ from: 0, to: 401 }], { position, tS, halfSpanS });
  return line.slopeSd;
}

/** Textbook: the deviation of the slope of a line through evenly spaced data goes with its length to -3/2. */
test('a slope beside a ramp is known as by the data on its own side', () => {
  const sd = widened([cluster]);
  const at = (row: number): number => sd[row] ?? Number.NaN;
  expect(at(170)).toBe(1);
  expect(at(180)).toBe(1);
  expect(at(190)).toBeCloseTo((40 / 30) ** 1.5, 9);
  expect(at(199)).toBeCloseTo((40 / 21) ** 1.5, 9);
  expect(at(211)).toBeCloseTo((40 / 21) ** 1.5, 9);
  expect(at(240)).toBe(1);
});

test('without ramps nothing changes, at the ends of the data either', () => {
  expect([...new Set(widened([]))]).toEqual([1]);
});
