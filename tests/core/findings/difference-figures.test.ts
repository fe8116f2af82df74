import { describe, expect, test } from 'vitest';
import { differenceFigures } from '@/lib/core/findings/difference-figures';

/** Once a second from 0 to 100 s, `of` at each; NaN where there is none. */
function column(of: (tS: number) => number, rows: 'estimated' | 'measured' = 'measured') {
  const tS = Float64Array.from({ length: 101 }, (_, index) => index);
  const sources = [{ file: 'telemetry.csv', sha256: 'a' }];
  return { key: 'telemetry.csv:x', unit: 'm/s', tS, values: tS.map(of), sources, rows };
}

describe('two cursors on a column', () => {
  test('a straight line gives its own slope, difference and mean, without error', () => {
    const found = differenceFigures(
      column((tS) => 2 * tS + 1),
      { fromS: 10.5, toS: 20.5 },
    );
    expect(found.start.value).toBeCloseTo(22, 12);
    expect(found.end.value).toBeCloseTo(42, 12);
    expect(found.difference.value).toBeCloseTo(20, 12);
    expect(found.slope.value).toBeCloseTo(2, 12);
    expect(found.slope.unit).toBe('m/s2');
    expect(found.slope.uncertainty?.random).toBeCloseTo(0, 6);
    // Between the samples at 11 and 20 s.
    expect(found.mean.value).toBeCloseTo(32, 12);
  });

  /** Elementary: a sine over whole periods has the root mean square of its amplitude over root 2. */
  test('a sine over whole periods has no mean and its known root mean square', () => {
    const sine = column((tS) => 3 * Math.sin((2 * Math.PI * tS) / 20));
    const found = differenceFigures(sine, { fromS: 0, toS: 100 });
    expect(found.mean.value).toBeCloseTo(0, 12);
    expect(found.rms.value).toBeCloseTo(3 / Math.SQRT2, 12);
  });

  test('an end without a sample has no value and says why; the rest stands', () => {
    const holed = column((tS) => (tS < 30 ? Number.NaN : 5));
    const found = differenceFigures(holed, { fromS: 10, toS: 60 });
    expect(found.start.value).toBeNull();
    expect(found.difference.reason).toMatch(/no sample on both sides/);
    expect(found.end.value).toBe(5);
    expect(found.mean.value).toBe(5);
  });

  test('rows of an estimate give a slope without a half-width', () => {
    const found = differenceFigures(
      column((tS) => tS + Math.sin(tS), 'estimated'),
      { fromS: 0, toS: 100 },
    );
    expect(found.slope.uncertainty).toBeNull();
    expect(found.slope.evidence).toMatchObject({
      channels: ['telemetry.csv:x'],
      fromS: 0,
      toS: 100,
    });
  });

  test('an instant has a value and a difference of zero, and nothing over time', () => {
    const found = differenceFigures(
      column(() => 4),
      { fromS: 10.5, toS: 10.5 },
    );
    expect(found.start.value).toBe(4);
    expect(found.difference.value).toBe(0);
    expect(found.mean.value).toBeNull();
    expect(found.slope.value).toBeNull();
  });
});
