import { expect, test } from 'vitest';
import { MEAN_MOTION_RAD_PER_S, type PortState, stepMotion } from '@/seed/orbit-motion';

const COAST = { xMps2: 0, yMps2: 0, zMps2: 0 };

function coast(start: PortState, steps: number): PortState {
  let state = start;
  for (let count = 0; count < steps; count += 1) state = stepMotion(state, COAST, 0.1);
  return state;
}

/**
 * Source: Vallado, "Fundamentals of Astrodynamics and Applications", 4th ed., Eq. 6-65, the closed
 * solution of the Clohessy-Wiltshire equations; here x is along-track and z radial, so that
 * z(t) = (4 - 3 cos nt) z0 + sin nt / n vz0 + 2/n (1 - cos nt) vx0
 * x(t) = 6 (sin nt - nt) z0 + x0 - 2/n (1 - cos nt) vz0 + (4 sin nt / n - 3 t) vx0
 * y(t) = y0 cos nt + vy0 / n sin nt. (Equation number from memory.)
 */
test('20 minutes of free drift in steps of 0.1 s follow the closed solution to 0.01 mm', () => {
  const start = { xM: 300, yM: 2, zM: -4, vxMps: -0.2, vyMps: 0.01, vzMps: 0.03 };
  const n = MEAN_MOTION_RAD_PER_S;
  const t = 1200;
  const [sin, cos] = [Math.sin(n * t), Math.cos(n * t)];
  const end = coast(start, 12_000);
  expect(
    Math.abs(
      end.zM -
        ((4 - 3 * cos) * start.zM + (sin / n) * start.vzMps + (2 / n) * (1 - cos) * start.vxMps),
    ),
  ).toBeLessThan(1e-5);
  expect(
    Math.abs(
      end.xM -
        (6 * (sin - n * t) * start.zM +
          start.xM -
          (2 / n) * (1 - cos) * start.vzMps +
          ((4 * sin) / n - 3 * t) * start.vxMps),
    ),
  ).toBeLessThan(1e-5);
  expect(Math.abs(end.yM - (start.yM * cos + (start.vyMps / n) * sin))).toBeLessThan(1e-5);
});

/**
 * By hand from the same closed solution: with thrust stopped on the velocity axis the nearest
 * approach is 39.3 m from 100 m at 0.25 m/s, and 12.41 m from 30 m at 0.07 m/s (n = 0.00113 rad/s).
 */
test.each([
  [100, 0.25, 39.3, 0.05],
  [30, 0.07, 12.41, 0.005],
])(
  'with thrust stopped at %d m and %d m/s the nearest approach is %d m',
  (fromM, closingMps, nearestM, within) => {
    let state: PortState = { xM: fromM, yM: 0, zM: 0, vxMps: -closingMps, vyMps: 0, vzMps: 0 };
    let nearest = fromM;
    for (let count = 0; count < 6000; count += 1) {
      state = stepMotion(state, COAST, 0.1);
      nearest = Math.min(nearest, Math.hypot(state.xM, state.zM));
    }
    expect(Math.abs(nearest - nearestM)).toBeLessThan(within);
  },
);
