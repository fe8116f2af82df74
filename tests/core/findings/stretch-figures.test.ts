import { describe, expect, test } from 'vitest';
import { stretchFigures } from '@/lib/core/findings/stretch-figures';
import { wordsMeanwhile } from '@/lib/core/findings/words-meanwhile';
import type { DerivedColumns } from '@/lib/core/reconstruction/reconstruction';
import { sampleDerived } from '../../support/sample-derived';
import { sampleReconstruction } from '../../support/sample-reconstruction';

/** Range falls from 100 m at 0.2 m/s, one row a second; no row between 40 and 60 s. */
function straightIn(): DerivedColumns {
  const tS = Float64Array.from({ length: 101 }, (_, row) => row).filter((t) => t <= 40 || t >= 60);
  const column = (name: string, unit: string, at: (t: number) => number) => ({
    name,
    label: name,
    unit,
    values: tS.map(at),
  });
  return {
    tS,
    columns: [
      column('range', 'm', (t) => 100 - 0.2 * t),
      column('closing_rate', 'm/s', (t) => (t % 2 === 0 ? 0.1 : 0.3)),
      column('lateral_offset', 'm', (t) => 0.01 * t),
      column('limit.corridor', 'm', (t) => (t < 70 ? Number.NaN : 0.9)),
    ],
  };
}

function figuresOf(fromS: number, toS: number, derived = straightIn()) {
  const channels = [
    {
      source: 'telemetry.csv',
      name: 'prop',
      as: 'propellant_mass',
      unit: 'kg',
      tS: Float64Array.from([0, 50, 100]),
      values: Float64Array.from([80, 79, 77]),
    },
  ];
  const all = stretchFigures({
    reconstruction: sampleReconstruction,
    derived,
    channels,
    fromS,
    toS,
  });
  return new Map(all.map((each) => [each.key, each.figure]));
}

describe('figures of a stretch', () => {
  test('range at an edge between two rows is linear between them', () => {
    const figures = figuresOf(10.5, 30);
    expect(figures.get('stretch.range_start_m')?.value).toBeCloseTo(97.9, 9);
    expect(figures.get('stretch.range_end_m')?.value).toBeCloseTo(94, 9);
  });

  test('an edge inside a gap has no range, and says why', () => {
    const start = figuresOf(50, 80).get('stretch.range_start_m');
    expect(start?.value).toBeNull();
    expect(start?.reason).toMatch(/gap/);
    expect(start?.uncertainty).toBeNull();
  });

  test('mean and rms are over time, without the gap', () => {
    const figures = figuresOf(0, 100);
    // By hand: the rate alternates 0.1 and 0.3, so every trapezoid has mean 0.2 and mean square 0.05.
    expect(figures.get('stretch.closing_rate_mean_mps')?.value).toBeCloseTo(0.2, 12);
    expect(figures.get('stretch.closing_rate_rms_mps')?.value).toBeCloseTo(Math.sqrt(0.05), 12);
    expect(figures.get('stretch.closing_rate_min_mps')?.value).toBe(0.1);
    expect(figures.get('stretch.closing_rate_max_mps')?.value).toBe(0.3);
  });

  test('the smallest margin counts only where the rule applies', () => {
    const figures = figuresOf(60, 100);
    expect(figures.get('stretch.rules[corridor].margin')?.value).toBeCloseTo(-0.1, 12);
    expect(figuresOf(0, 40).has('stretch.rules[corridor].margin')).toBe(false);
  });

  test('time beyond counts the part of an exceedance inside the stretch', () => {
    // The sample reconstruction is beyond closing-rate from 200 to 203.8 s and 700 to 702.9 s.
    const figures = figuresOf(201, 701, sampleDerived);
    expect(figures.get('stretch.rules[closing-rate].beyond_s')?.value).toBeCloseTo(2.8 + 1, 9);
    expect(figuresOf(210, 300, sampleDerived).has('stretch.rules[closing-rate].beyond_s')).toBe(
      false,
    );
  });

  test('propellant used is the mass at the start less the mass at the end', () => {
    expect(figuresOf(0, 75).get('stretch.propellant_used_kg')?.value).toBeCloseTo(2, 12);
    expect(figuresOf(0, 101).get('stretch.propellant_used_kg')?.value).toBeNull();
  });

  test('an instant has values at it, on a row or between two, and nothing over time', () => {
    for (const [atS, rateMps] of [
      [10, 0.1],
      [10.4, 0.18],
    ] as const) {
      const figures = figuresOf(atS, atS);
      expect(figures.get('stretch.range_start_m')?.value).toBeCloseTo(100 - atS / 5, 9);
      expect(figures.get('stretch.closing_rate_min_mps')?.value).toBeCloseTo(rateMps, 12);
      expect([...figures.keys()]).not.toContain('stretch.duration_s');
      expect([...figures.keys()]).not.toContain('stretch.closing_rate_mean_mps');
      expect([...figures.values()].every((figure) => figure.value !== null)).toBe(true);
    }
  });

  test('the half-width of the range is the one at the nearest phase edge', () => {
    const range = figuresOf(100, 140, sampleDerived).get('stretch.range_start_m');
    expect(range?.uncertainty).toEqual({ random: 0.03, systematic: null });
  });

  test('words of both edges belong to the stretch', () => {
    const words = wordsMeanwhile(sampleReconstruction, { fromS: 203.1, toS: 345 });
    expect(words.map((each) => each.text)).toEqual([
      'Your rate is high.',
      'Range 70 meters.',
      'Holding here.',
    ]);
  });
});
