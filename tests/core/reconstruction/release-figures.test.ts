import { describe, expect, test } from 'vitest';
import { crossCoupling, deflections } from '@/lib/core/handling/after-release';
import { insideBounds } from '@/lib/core/handling/inside-bounds';
import type { CheckedSource } from '@/lib/core/reconstruction/data-quality';
import { taskActivity } from '@/lib/core/reconstruction/task-activity';
import { channel, telemetrySource } from '../../support/flown-session';

const STEP_S = 0.1;
const rows = 400;
const at = (of: (atS: number) => number) =>
  Float64Array.from({ length: rows }, (_, k) => of(k * STEP_S));
const tS = at((atS) => atS);

/** Inputs of 1 s at 5 s and 20 s; each leaves 0.02 m/s along y, 0.005 m/s along z, and a rest of both. */
const isIn = (atS: number) => (atS >= 5 && atS < 6) || (atS >= 20 && atS < 21);
const done = (atS: number) => (atS >= 21 ? 0 : atS >= 6 ? 1 : 0);
const source = telemetrySource(tS, [
  channel(
    'hc_y',
    'hand_controller.y',
    '1',
    at((atS) => (isIn(atS) ? 1 : 0)),
  ),
  channel(
    'vy',
    'velocity.y',
    'm/s',
    at((atS) => 0.02 * done(atS)),
  ),
  channel(
    'vz',
    'velocity.z',
    'm/s',
    at((atS) => 0.005 * done(atS)),
  ),
]);
const checked = (times: Float64Array): CheckedSource => ({
  source,
  tS: times,
  stepS: STEP_S,
  longestStepS: 5 * STEP_S,
  gaps: [],
  channels: source.channels.map((each) => ({
    channel: each,
    rejected: null,
    rhythm: { kind: 'each-row' },
  })) as unknown as CheckedSource['channels'],
  faults: [],
});

describe('after release', () => {
  const [y] = taskActivity([checked(tS)], { fromS: 0, toS: 39 });

  test('the rate left is the root mean square of what each input leaves', () => {
    // 0.02 m/s after the first, none after the second.
    expect(y?.residualRate?.value).toBeCloseTo(0.02 / Math.SQRT2, 6);
  });

  test('a quarter of what was asked along y goes along z', () => {
    expect(y?.coupling?.value).toBeCloseTo(0.25, 6);
    expect(y?.coupling?.method).toContain('along z over those along y');
  });

  test('uneven rows are brought to even times, and a gap gives no spectrum', () => {
    const shaken = tS.map((atS, row) => atS + (row % 2 === 0 ? 0 : 0.02));
    const [even] = taskActivity([checked(shaken)], { fromS: 0, toS: 39 });
    expect(even?.cutOffHz.value).toBeCloseTo(y?.cutOffHz.value ?? Number.NaN, 2);
    expect(even?.cutOffHz.method).toContain('brought to even times');
    const torn = tS.map((atS, row) => (row < 200 ? atS : atS + 3));
    const [gap] = taskActivity([checked(torn)], { fromS: 0, toS: 39 });
    expect(gap?.cutOffHz.value).toBeNull();
    expect(gap?.cutOffHz.reason).toContain('apart');
  });
});

test('whole deflections are found, one that is cut off at the start is not', () => {
  expect(deflections(Float64Array.of(1, 0, 0, 1, 1, 0, 1), 0, 0.1)).toEqual([{ from: 3, to: 5 }]);
  expect(crossCoupling([0, 0], [1, 1])).toBeNaN();
});

test('a stretch that begins outside has left nothing there', () => {
  const values = Float64Array.of(2, 2, 0, 2, 0);
  const column = { tS: Float64Array.of(0, 1, 2, 3, 4), values, spans: [{ from: 0, to: 5 }] };
  expect(insideBounds(column, 1).overshoots).toBe(1);
});
