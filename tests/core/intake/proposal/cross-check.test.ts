import { describe, expect, test } from 'vitest';
import { type CheckedColumn, findDisagreements } from '@/lib/core/intake/proposal/cross-check';
import { METRES_PER_FOOT } from '@/lib/core/units/unit';

const ROWS = 300;
const STEP_S = 1;

/** A slow approach from 90 m to 0 with a wobble across, and a little noise that repeats by itself. */
function approach(): Readonly<Record<string, Float64Array>> {
  const over = (value: (tS: number) => number): Float64Array =>
    Float64Array.from({ length: ROWS }, (_, row) => value(row * STEP_S));
  const noise = (tS: number): number => 0.003 * Math.sin(12.9898 * tS * tS + 1);
  return {
    x: over((tS) => 95 - 0.3 * tS + noise(tS)),
    vx: over((tS) => -0.3 + noise(tS + 0.3)),
    y: over((tS) => 2 * Math.sin(tS / 30) + noise(tS + 0.6)),
    z: over((tS) => 0.5 * Math.cos(tS / 40)),
  };
}

function check(columns: readonly CheckedColumn[]) {
  const tS = Float64Array.from({ length: ROWS }, (_, row) => row * STEP_S);
  return findDisagreements({ tS, blocks: [0, 100, 200], columns });
}

const scaled = (values: Float64Array | undefined, factor: number): Float64Array =>
  (values ?? new Float64Array()).map((value) => factor * value);

describe('columns that contradict each other are named before the import', () => {
  const { x, vx, y, z } = approach();
  const position = { column: 'x', as: 'position.x', values: scaled(x, 1) };

  test('position and velocity that agree are left alone', () => {
    expect(check([position, { column: 'vx', as: 'velocity.x', values: scaled(vx, 1) }])).toEqual(
      [],
    );
  });

  test('a velocity that grows while the position falls has the wrong sign', () => {
    const found = check([position, { column: 'vx', as: 'velocity.x', values: scaled(vx, -1) }]);
    expect(found).toMatchObject([{ kind: 'sign', column: 'x', against: 'vx' }]);
  });

  test('a range rate that is positive while closing has the wrong sign', () => {
    const range = { column: 'rng', as: 'range', values: scaled(x, 1) };
    const rate = { column: 'closing', as: 'range_rate', values: scaled(vx, -1) };
    expect(check([range, rate])).toMatchObject([{ kind: 'sign', against: 'closing' }]);
  });

  test('a position in feet described as metres changes 3.28 times as fast as its velocity says', () => {
    const feet = { ...position, values: scaled(x, 1 / METRES_PER_FOOT) };
    const found = check([feet, { column: 'vx', as: 'velocity.x', values: scaled(vx, 1) }]);
    expect(found).toMatchObject([{ kind: 'unit', column: 'x' }]);
    expect(found[0]?.ratio).toBeCloseTo(3.28, 1);
  });

  /** Position, rate and what the ratio of their changes is by the definitions of the units. */
  test.each([
    ['metres, feet a second', 1, 1 / METRES_PER_FOOT, METRES_PER_FOOT, 'metres taken for feet'],
    ['kilometres, metres a second', 0.001, 1, 0.001, 'a thousand of the unit'],
    ['kilometres, millimetres a second', 0.001, 1000, 1e-6, 'kilometres taken for metres'],
    ['centimetres, metres a second', 100, 1, 100, 'a hundredth of the unit'],
    ['metres, kilometres an hour', 1, 3.6, 1 / 3.6, 'kilometres an hour'],
    [
      'feet, metres a second, turned',
      1 / METRES_PER_FOOT,
      -1,
      -1 / METRES_PER_FOOT,
      'opposite sign',
    ],
  ])('%s, all described in metres and seconds, are named', (_shape, of, per, ratio, said) => {
    const found = check([
      { ...position, values: scaled(x, of) },
      { column: 'vx', as: 'velocity.x', values: scaled(vx, per) },
    ]);
    expect(found).toMatchObject([{ kind: 'unit', column: 'x' }]);
    expect((found[0]?.ratio ?? 0) / ratio).toBeCloseTo(1, 1);
    expect(found[0]?.message).toContain(said);
  });

  test('a rate of angle in radians under an angle in degrees is named', () => {
    const angle = { column: 'roll', as: 'attitude_error.roll', values: scaled(x, 1) };
    const rate = { column: 'p', as: 'body_rate.roll', values: scaled(vx, Math.PI / 180) };
    expect(check([angle, rate])[0]?.message).toContain('degrees taken for radians');
  });

  test('a range in another unit than the position is found by their sizes', () => {
    const range = { column: 'rng', as: 'range', values: scaled(x, 0.001) };
    const parts = [
      position,
      { column: 'y', as: 'position.y', values: scaled(y, 1) },
      { column: 'z', as: 'position.z', values: scaled(z, 1) },
    ];
    expect(check([range, ...parts])).toMatchObject([{ kind: 'unit', column: 'rng' }]);
  });

  test('a hold says nothing', () => {
    const still = scaled(x, 0).map((_, row) => 20 + 0.01 * Math.sin(row * 7));
    const rest = scaled(x, 0).map((_, row) => 0.01 * Math.cos(row * 5));
    const columns = [
      { column: 'x', as: 'position.x', values: still },
      { column: 'vx', as: 'velocity.x', values: rest },
    ];
    expect(check(columns)).toEqual([]);
  });
});
