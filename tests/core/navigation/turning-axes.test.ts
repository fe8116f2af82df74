import { expect, test } from 'vitest';
import { type AcrossColumns, findTurning } from '@/lib/core/navigation/turning-axes';
import { expectWithin } from '../../support/expect-within';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

/** n of the published arithmetic of relative motion: 0.2825 m/s at 250 m. */
const MEAN_MOTION_RAD_PER_S = 0.00113;

type Made = Readonly<{ turnRadPerS: number; stepM?: number; closingMps?: number; seed?: number }>;

/** From 250 m at a rate, once a second; what lies across swings by 0.3 m in 200 s. */
function columns({ turnRadPerS, stepM = 0, closingMps = 0.25, seed = 3 }: Made): AcrossColumns {
  const random = seededRandom(seed);
  const n = Math.round(220 / closingMps);
  const w = (2 * Math.PI) / 200;
  const tS = Float64Array.from({ length: n }, (_, i) => i);
  const axialM = tS.map((t) => 250 - closingMps * t);
  return {
    tS,
    axialM,
    acrossM: tS.map((t) => 0.3 * Math.sin(w * t) + (t > 300 ? stepM : 0) + 0.05 * gaussian(random)),
    acrossMps: tS.map(
      (t, i) =>
        0.3 * w * Math.cos(w * t) + turnRadPerS * (axialM[i] ?? 0) + 0.003 * gaussian(random),
    ),
    longestStepS: 5,
  };
}

/** Source: n r at 250 m, n = 0.00113 rad/s (recomputed, elementary): 0.2825 m/s. */
test('a velocity in inertial axes is off by n r: 0.2825 m/s at 250 m', () => {
  const found = findTurning(columns({ turnRadPerS: MEAN_MOTION_RAD_PER_S }));
  const atM = 250;
  const error = 2 * (found?.standardError ?? 0) * atM;
  expectWithin((found?.turnRadPerS ?? 0) * atM, -0.2825, error, 'noise of a median');
  expect(error).toBeLessThan(0.01);
});

test('axes that turn the other way have the other sign; a step of the position changes nothing', () => {
  const other = findTurning(columns({ turnRadPerS: -MEAN_MOTION_RAD_PER_S, stepM: 0.5 }));
  expectWithin(other?.turnRadPerS, MEAN_MOTION_RAD_PER_S, 3e-5, 'noise of a median');
});

test('a velocity in the position’s own axes leaves nothing, over 100 seeds', () => {
  for (let seed = 1; seed <= 100; seed++) {
    expect(findTurning(columns({ turnRadPerS: 0, closingMps: 0.5, seed }))).toBeNull();
  }
});

test('too short a stretch tells nothing', () => {
  const short = columns({ turnRadPerS: MEAN_MOTION_RAD_PER_S, closingMps: 2 });
  expect(findTurning(short)).toBeNull();
});
