import { describe, expect, test } from 'vitest';
import { placesOfFlight, timesAtPlaces } from '@/lib/core/compare/alignment';
import { placeInstants, type Track, valuesAtPlaces } from '@/lib/core/compare/track';

/** In from 10 m at 0.1 m/s from 100 s on, backing off from 4 m to 6 m and in again; a row a second. */
function distanceAt(sinceS: number): number {
  if (sinceS < 60) return 10 - 0.1 * sinceS;
  if (sinceS < 80) return 4 + 0.1 * (sinceS - 60);
  return 6 - 0.1 * (sinceS - 80);
}

const rows = 141;
const tS = Float64Array.from({ length: rows }, (_, k) => 100 + k);
const axial = tS.map((atS) => distanceAt(atS - 100));
const flight: Track = {
  name: 'flight',
  sha256: '',
  tS,
  spans: [{ from: 0, to: rows }],
  columns: new Map([
    ['axial_distance', axial],
    ['range', axial.map((m) => Math.hypot(m, 3))],
    ['y', tS.map((atS) => 2 * atS)],
  ]),
  steps: { hold: [90, 110], final: [110, 240] },
  contactS: 240,
};
const pass = { step: 'final', sense: 'inward' } as const;
const times = (alignment: Parameters<typeof timesAtPlaces>[2]['alignment']) => {
  const places = placesOfFlight(flight, { alignment, pass });
  const found = timesAtPlaces(flight, places, { alignment, pass });
  return new Map(Array.from(found, (atS, k) => [places[k] ?? Number.NaN, atS] as const));
};

describe('what is aligned', () => {
  test('a distance passed twice counts at its last pass, and one outside the step does not', () => {
    const at = times({ kind: 'axial' });
    expect(at.get(5)).toBeCloseTo(190, 9);
    expect(at.get(8)).toBeCloseTo(120, 9);
    // 10 m is passed before the step begins, at 110 s and 9 m.
    expect([...at.keys()]).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9]);
  });

  test('range is the hypotenuse: 5 m of range is 4 m of distance, 3 m across', () => {
    expect(times({ kind: 'range' }).get(5)).toBeCloseTo(200, 1);
  });

  test('time within a step counts from its start to its end', () => {
    const at = times({ kind: 'time', step: 'final' });
    expect(at.get(0)).toBe(110);
    expect(Math.max(...at.values())).toBe(240);
    expect(at.size).toBeLessThanOrEqual(200);
  });

  test('time from an event counts on both sides of it, as far as there are rows', () => {
    const before = times({ kind: 'event', event: 'contact' });
    expect([Math.min(...before.keys()), Math.max(...before.keys())]).toEqual([-120, 0]);
    const start = times({ kind: 'event', event: 'start:final' });
    expect(start.get(0)).toBe(110);
    expect(Math.min(...start.keys())).toBe(-10);
    expect(times({ kind: 'event', event: 'end:nothing' }).size).toBe(0);
  });
});

test('values are linear between rows, and none stands in a gap', () => {
  const gap = {
    ...flight,
    spans: [
      { from: 0, to: 50 },
      { from: 50, to: rows },
    ],
  };
  const at = placeInstants(gap, Float64Array.of(100, 100.25, 149.5, 150, 99, Number.NaN));
  const values = valuesAtPlaces(gap.columns.get('y') ?? new Float64Array(0), at);
  expect([...values]).toEqual([200, 200.5, Number.NaN, 300, Number.NaN, Number.NaN]);
});
