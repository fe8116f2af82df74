import { describe, expect, test } from 'vitest';
import {
  coastRelative,
  driftPerOrbitM,
  meanMotionRadPerS,
  type RelativeStateRtn,
  twoImpulseRendezvous,
  velocityToTarget,
} from '@/lib/core/motion/clohessy-wiltshire';
import { expectWithin } from '../support/expect-within';

const VALLADO_GRAVITY = 398600.4415e9; // m3/s2
const VALLADO_EARTH_M = 6378.1363e3;
const at590Km = meanMotionRadPerS(VALLADO_GRAVITY, VALLADO_EARTH_M + 590e3);

function state(parts: Partial<RelativeStateRtn>): RelativeStateRtn {
  return { frame: 'RTN', x: 0, y: 0, z: 0, vx: 0, vy: 0, vz: 0, ...parts };
}

/**
 * Source: D. A. Vallado, "Fundamentals of Astrodynamics and Applications", example 6-14 (algorithm
 * 48), target on a circular orbit at 590 km; the digits at 300 s are those of the companion code's
 * own test (python/tests/astro/twobody/test_hills.py), at 600 s the book prints three decimals.
 */
describe('Vallado example 6-14', () => {
  const start = state({ vx: -0.1, vy: -0.04, vz: -0.02 });

  test('mean motion at 590 km is 1.0854102839342136e-3 rad/s', () => {
    expectWithin(at590Km, 1.0854102839342136e-3, 1e-15, 'double precision');
  });

  test('300 s later the state is as printed', () => {
    const end = coastRelative(start, at590Km, 300);
    expectWithin(end.x, -33.345724432188, 33e-9, '1e-9 relative');
    expectWithin(end.y, -1.473560307487, 2e-9, '1e-9 relative');
    expectWithin(end.z, -5.894530311608, 6e-9, '1e-9 relative');
    expectWithin(end.vx, -0.120337093866688, 1.2e-10, '1e-9 relative');
    expectWithin(end.vy, 0.032387584447866, 1e-10, '1e-9 relative');
    expectWithin(end.vz, -0.018949031717993, 1e-10, '1e-9 relative');
  });

  test('600 s and 1200 s later the position is as printed', () => {
    const end = coastRelative(start, at590Km, 600);
    expectWithin(end.x, -70.933, 5e-4, 'book prints mm');
    expectWithin(end.y, 20.357, 5e-4, 'book prints mm');
    expectWithin(end.z, -11.17, 5e-4, 'book prints mm');
    const later = coastRelative(start, at590Km, 1200);
    expectWithin(later.x, -143.0007367, 5e-8, 'half the last digit');
    expectWithin(later.y, 137.27922395, 5e-9, 'half the last digit');
    expectWithin(later.z, -17.76695697, 5e-9, 'half the last digit');
  });
});

/** Source: Vallado, example 6-15, and its companion test; the 900 s row recomputed independently. */
test('Vallado example 6-15: the velocity that leads to the target', () => {
  const from = { x: -70.933, y: 20.357, z: -11.17 };
  const needed = velocityToTarget(from, at590Km, 300);
  expectWithin(needed.vx, 0.274190838333, 5e-12, 'half the last digit');
  expectWithin(needed.vy, 0.013466718841, 5e-12, 'half the last digit');
  expectWithin(needed.vz, 0.035907981315, 5e-12, 'half the last digit');
  const slower = velocityToTarget(from, at590Km, 900);
  expectWithin(slower.vx, 0.13562936, 5e-9, 'half the last digit');
  expectWithin(slower.vy, 0.07528168, 5e-9, 'half the last digit');
  expectWithin(slower.vz, 0.00818685, 5e-9, 'half the last digit');
});

/**
 * Source: H. D. Curtis, "Orbital Mechanics for Engineering Students", chapter 7, example 7.2
 * (two-impulse rendezvous in 8 h), as held by Orekit's ClohessyWiltshireRendezVousTest.
 */
test('Curtis rendezvous: 74.0767 m/s and 35.5928 m/s', () => {
  const start = state({ x: 20e3, y: 20e3, z: 20e3, vx: -20, vy: 20, vz: -5 });
  const burns = twoImpulseRendezvous(start, 0.00115697, 8 * 3600);
  expectWithin(burns.departure.vx, 29.357511488, 5e-10, 'half the last digit');
  expectWithin(burns.departure.vy, -66.751151059, 5e-10, 'half the last digit');
  expectWithin(burns.departure.vz, 13.029719714, 5e-10, 'half the last digit');
  expectWithin(-burns.arrival.vx, -25.820815904, 5e-10, 'half the last digit');
  expectWithin(-burns.arrival.vy, -0.472351059, 5e-10, 'half the last digit');
  expectWithin(-burns.arrival.vz, -24.49302413, 5e-10, 'half the last digit');
  expectWithin(burns.departureMps, 74.0767, 5e-5, 'half the last digit');
  expectWithin(burns.arrivalMps, 35.5928, 5e-5, 'half the last digit');
});

/**
 * Source: Orekit, ClohessyWiltshireProviderTest.testMatrixComputation: a = 6677.9933719419 km,
 * mu = 3.986004415e14, 28 800 s. Columns are read off by coasting unit states.
 */
test('the transition matrix has the published entries', () => {
  const n = meanMotionRadPerS(3.986004415e14, 6677.9933719419e3);
  expectWithin(n, 1.1569108982232928e-3, 1e-16, 'double precision');
  const radial = coastRelative(state({ x: 1 }), n, 28_800);
  expectWithin(radial.x, 4.9786854123867, 1e-11, 'half the last digits');
  expectWithin(radial.y, -194.242457498099, 1e-9, 'half the last digits');
  expectWithin(radial.vx, 0.00328085221475134, 1e-14, 'half the last digits');
  expectWithin(radial.vy, -0.00920596902838442, 1e-14, 'half the last digits');
  const across = coastRelative(state({ z: 1 }), n, 28_800);
  expectWithin(across.z, -0.326228470795567, 1e-12, 'half the last digits');
  expectWithin(across.vz, -0.00109361740491711, 1e-14, 'half the last digits');
  const outward = coastRelative(state({ vx: 1 }), n, 28_800);
  expectWithin(outward.x, 817.081897951423, 1e-9, 'half the last digits');
  expectWithin(outward.y, -2292.70633171889, 1e-8, 'half the last digits');
  expectWithin(outward.vx, -0.326228470795567, 1e-12, 'half the last digits');
  expectWithin(outward.vy, -1.89058190496195, 1e-11, 'half the last digits');
  const along = coastRelative(state({ vy: 1 }), n, 28_800);
  expectWithin(along.x, 2292.70633171889, 1e-8, 'half the last digits');
  expectWithin(along.y, -83131.6724081943, 1e-6, 'half the last digits');
  expectWithin(along.vx, 1.89058190496195, 1e-11, 'half the last digits');
  expectWithin(along.vy, -4.30491388318227, 1e-11, 'half the last digits');
});

/** Exact consequences of the equations (derived), with numbers for a 400 km orbit. */
describe('invariants of the equations', () => {
  const n = meanMotionRadPerS(398600.4418e9, 6778.137e3);
  const periodS = (2 * Math.PI) / n;

  test('no drift exactly when vy = -2 n x', () => {
    const start = state({ x: 50, vy: -2 * n * 50, vx: 0.1 });
    expectWithin(driftPerOrbitM(start, n), 0, 1e-9, 'rounding');
    expectWithin(coastRelative(start, n, periodS).y, 0, 1e-9, 'rounding');
  });

  test('a tangential 0.1 m/s moves 1666.087 m an orbit and 353.555 m out', () => {
    const start = state({ vy: 0.1 });
    expectWithin(Math.abs(driftPerOrbitM(start, n)), 1666.087, 5e-4, 'half the last digit');
    expectWithin(coastRelative(start, n, periodS / 2).x, 353.555, 5e-4, 'half the last digit');
    const drifted = coastRelative(start, n, periodS).y;
    expectWithin(drifted, driftPerOrbitM(start, n), 1e-8, 'rounding');
  });

  test('1 km below on a coelliptic orbit gains 3 pi km an orbit', () => {
    const start = state({ x: -1000, vy: 1.5 * n * 1000 });
    expectWithin(driftPerOrbitM(start, n), 3000 * Math.PI, 1e-8, 'exact');
  });

  test('a radial push leads 4 dv / n along after half an orbit, and back after a whole one', () => {
    const start = state({ vx: 0.1 });
    const half = coastRelative(start, n, periodS / 2);
    expectWithin(Math.abs(half.y), 0.4 / n, 1e-9, 'exact');
    const whole = coastRelative(start, n, periodS);
    expectWithin(Math.hypot(whole.x, whole.y), 0, 1e-9, 'exact');
  });

  test('a steady 0.1 m/s along the orbit asks for 2.26273e-4 m/s2, standing 100 m above for 3 n2 x', () => {
    // What is gained in a moment of coasting, thrust would have to hold.
    const aMomentS = 1e-3;
    const along = coastRelative(state({ vy: 0.1 }), n, aMomentS);
    expectWithin(along.vx / aMomentS, 2.26273e-4, 5e-10, 'half the last digit');
    const above = coastRelative(state({ x: 100 }), n, aMomentS);
    expectWithin(above.vx / aMomentS, 3 * n * n * 100, 1e-9, 'a moment');
  });

  test('coasting there and back, and in two parts, gives the same state', () => {
    const start = state({ x: 12, y: -250, z: 3, vx: 0.01, vy: 0.2, vz: -0.02 });
    const there = coastRelative(start, n, 700);
    const back = coastRelative(there, n, -700);
    const parts = coastRelative(coastRelative(start, n, 300), n, 400);
    for (const key of ['x', 'y', 'z', 'vx', 'vy', 'vz'] as const) {
      expectWithin(back[key], start[key], 1e-9, 'rounding');
      expectWithin(parts[key], there[key], 1e-9, 'rounding');
    }
    expect(there.frame).toBe('RTN');
  });
});

/**
 * Source: recomputed from the equations for n = 0.00113 rad/s: the nearest approach where thrust stops on the way in
 * along the orbit, and what the way from 250 m to 30 m costs radially.
 */
describe('an approach along the orbit', () => {
  const n = 0.00113;

  test.each([
    [30, 0.07, 12.41, 333],
    [100, 0.25, 39.3, 319],
    [250, 0.25, 165.8, 480],
  ])('without thrust from %d m at %d m/s comes to %d m after %d s', (fromM, mps, nearM, afterS) => {
    const start = state({ y: -fromM, vy: mps });
    let nearest = { m: Number.POSITIVE_INFINITY, atS: 0 };
    for (let atS = 0; atS <= 1500; atS += 0.5) {
      const { x, y } = coastRelative(start, n, atS);
      const m = Math.hypot(x, y);
      if (m < nearest.m) nearest = { m, atS };
    }
    expectWithin(nearest.m, nearM, nearM > 20 ? 0.05 : 0.005, 'half the last digit');
    expectWithin(nearest.atS, afterS, 0.75, 'whole seconds, looked at twice a second');
  });

  test('from 250 m to 30 m takes 0.497 m/s radially, however fast', () => {
    for (const mps of [0.05, 0.25]) {
      const aMomentS = 1e-3;
      const outMps2 = coastRelative(state({ y: -250, vy: mps }), n, aMomentS).vx / aMomentS;
      expectWithin((outMps2 * 220) / mps, 0.497, 5e-4, 'half the last digit');
    }
  });
});
