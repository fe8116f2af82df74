import { describe, expect, test } from 'vitest';
import { columnBuilder } from '@/lib/core/series/column-builder';
import { envelopeOf } from '@/lib/core/series/envelope';
import { makeSeries } from '@/lib/core/series/make-series';
import { resampleLinear } from '@/lib/core/series/resample';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

const random = seededRandom(4);
const VALUES = Float64Array.from({ length: 12_345 }, () => gaussian(random));

describe('a column built from chunks', () => {
  test('is the same for chunks of 1, 7 and 10,000 rows', () => {
    for (const size of [1, 7, 10_000]) {
      const builder = columnBuilder(0);
      for (let from = 0; from < VALUES.length; from += size) {
        if (size === 1) builder.push(VALUES[from] ?? Number.NaN);
        else builder.append(VALUES.subarray(from, from + size));
      }
      expect(builder.length).toBe(VALUES.length);
      expect(builder.finish()).toEqual(VALUES);
    }
  });
});

describe('a series', () => {
  const epoch = { taiNs: 0n };
  test('refuses columns of different length and times that do not ascend', () => {
    const values = Float64Array.from([1, 2]);
    const make = (times: number[]) => () =>
      makeSeries({ channelId: 'x', epoch, tS: Float64Array.from(times), values });
    expect(make([0, 1])().values).toBe(values);
    expect(make([0])).toThrow('differ in length');
    expect(make([0, 0])).toThrow('ascend');
    expect(make([0, Number.NaN])).toThrow('not a number');
  });
});

describe('an envelope', () => {
  const tS = Float64Array.from(VALUES, (_, i) => i * 0.1);
  test('holds every value between its minimum and maximum, and hides no spike', () => {
    const spiked = VALUES.slice();
    spiked[6789] = 99;
    const window = { fromS: 0, toS: 1234.4, buckets: 100 };
    const envelope = envelopeOf(tS, spiked, window);
    expect(Math.max(...envelope.max)).toBe(99);
    expect(envelope.count.reduce((sum, count) => sum + count, 0)).toBe(VALUES.length);
  });

  test('is NaN where a bucket has no value', () => {
    const times = Float64Array.from([0, 1, 9, 10]);
    const window = { fromS: 0, toS: 10, buckets: 5 };
    const envelope = envelopeOf(times, Float64Array.from([1, 2, Number.NaN, 4]), window);
    expect([...envelope.min]).toEqual([1, Number.NaN, Number.NaN, Number.NaN, 4]);
    expect([...envelope.max]).toEqual([2, Number.NaN, Number.NaN, Number.NaN, 4]);
    expect([...envelope.count]).toEqual([2, 0, 0, 0, 1]);
  });
});

describe('a resampled column', () => {
  test('is linear inside, nothing outside and nothing in a gap', () => {
    const tS = Float64Array.from([0, 1, 2, 10, 11]);
    const values = Float64Array.from([0, 10, Number.NaN, 30, 40]);
    const at = Float64Array.from([-1, 0, 0.5, 1, 1.5, 5, 10, 10.5, 11, 12]);
    const out = resampleLinear(tS, values, at, 3);
    const none = Number.NaN;
    expect([...out]).toEqual([none, 0, 5, 10, none, none, 30, 35, 40, none]);
  });

  test('is at tens of thousands of times what a search for each of them alone gives', () => {
    const tS = Float64Array.from({ length: 15_000 }, (_, k) => k + 0.4 * random());
    const values = tS.map(() => (random() < 0.05 ? Number.NaN : gaussian(random)));
    const atS = Float64Array.from({ length: 20_000 }, (_, k) => 0.76 * k - 100);
    const known = Array.from(tS.keys()).filter((k) => !Number.isNaN(values[k] ?? Number.NaN));
    const knownS = known.map((k) => tS[k] ?? Number.NaN);
    // Definition of linear interpolation: between the nearest samples on either side.
    const alone = atS.map((at) => {
      let [from, to] = [0, knownS.length];
      while (from < to) {
        const middle = (from + to) >> 1;
        if ((knownS[middle] ?? 0) <= at) from = middle + 1;
        else to = middle;
      }
      const [low, high] = [knownS[from - 1] ?? Number.NaN, knownS[from] ?? Number.NaN];
      if (!(high - low <= 2.5)) return Number.NaN;
      const [below, above] = [values[known[from - 1] ?? 0] ?? 0, values[known[from] ?? 0] ?? 0];
      return below + ((above - below) * (at - low)) / (high - low);
    });
    const out = resampleLinear(tS, values, atS, 2.5);
    expect(out.filter(Number.isNaN).length).toBeGreaterThan(100);
    const off = out.map((value, k) => (Object.is(value, alone[k]) ? 0 : value - (alone[k] ?? 0)));
    expect(Math.max(...off.map(Math.abs))).toBeLessThan(1e-12);
  });
});
