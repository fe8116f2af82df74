import { describe, expect, test } from 'vitest';
import {
  attitudeTrack,
  quaternionOfAngles,
  rotationsAt,
  turnedBack,
  turnedBoth,
  turnedVector,
} from '@/lib/core/navigation/attitude-track';
import { intoTurningAxes } from '@/lib/core/navigation/inertial-velocity';
import { toPorts, turnNoise } from '@/lib/core/navigation/to-ports';
import { meanMotionRadPerS } from '@/lib/core/session/mean-motion';
import { expectWithin } from '../../support/expect-within';
import { seededRandom } from '../../support/seeded-random';

const DEG = Math.PI / 180;
const tS = Float64Array.from({ length: 601 }, (_, i) => 0.1 * i);
const column = (at: (t: number) => number) => tS.map(at);

type Angles = (t: number) => readonly [roll: number, pitch: number, yaw: number];
const track = (angles: Angles) =>
  attitudeTrack(tS, (i) => quaternionOfAngles(...angles(tS[i] ?? 0)));

/** Source: recomputed from WGS 84 and Kepler's third law: an orbit at 400 km takes 92.5604 min. */
test('the mean motion of an orbit at 400 km is that of 92.56 min', () => {
  const minutes = (2 * Math.PI) / meanMotionRadPerS(400_000) / 60;
  expectWithin(minutes, 92.5604, 5e-4, 'the source takes GM to four digits');
});

/** Source: n r at 250 m with n = 0.00113 rad/s (recomputed, elementary): 0.2825 m/s. */
test('omega x r of 250 m is taken off an inertial velocity, with its sense', () => {
  const one = (value: number) => Float64Array.of(value);
  const zero = one(0);
  const position = [one(250), zero, zero];
  const inertial = [one(-0.25), zero, one(0.2825)];
  const [x, y, z] = intoTurningAxes(position, inertial, [0, -0.00113, 0]);
  expect([x?.[0], y?.[0]]).toEqual([-0.25, 0]);
  expectWithin(z?.[0], 0, 1e-12, 'rounding');
  const other = intoTurningAxes(position, inertial, [0, 0.00113, 0]);
  expectWithin(other[2]?.[0], 0.565, 1e-12, 'twice n r the other way');
});

/** By hand: q and -q are one attitude, half a turn about x here, and an update of zeros is none. */
test('an update of no length between two of one attitude leaves it as it is', () => {
  const updates = [
    [0, 1, 0, 0],
    [0, 0, 0, 0],
    [0, -1, 0, 0],
  ] as const;
  const turned = attitudeTrack(Float64Array.of(0, 1, 2), (i) => updates[i] ?? [1, 0, 0, 0]);
  const rotation = rotationsAt(turned, Float64Array.of(0.5, 1, 1.5), 5);
  const [x, y, z] = turnedVector(rotation, [1, 2, 3]);
  expect([...(x ?? []), ...(y ?? []), ...(z ?? [])]).toEqual([1, 1, 1, -2, -2, -2, -3, -3, -3]);
});

/** By hand: one attitude between two gaps says where the port is, and nothing of how it turns. */
test('an attitude by itself gives a place and no velocity', () => {
  const alone = track((t) => [0, 0, 0.01 * t]);
  const known = rotationsAt(alone, tS, 1).map((element) =>
    element.map((value, row) => (row === 300 ? value : Number.NaN)),
  );
  const zero = [column(() => 0), column(() => 0), column(() => 0)];
  const ports = toPorts(
    { tS, positionM: zero, velocityMps: zero, longestStepS: 1 },
    {
      ...{ targetFrom: null, vehicleInTarget: known, vehicleArmM: [-5, 0, 0] },
      ...{ targetArmM: [0, 0, 0], attitudeStepS: 0.1 },
    },
  );
  expectWithin(ports.positionM[1]?.[300], -5 * Math.sin(0.3), 1e-12, 'sine of 0.3 rad');
  expect(ports.velocityMps?.[1]?.[300]).toBeNaN();
});

describe('an arm of 5 m', () => {
  const still = (yaw: (t: number) => number) =>
    toPorts(
      {
        tS,
        positionM: [column(() => 10), column(() => 0), column(() => 0)],
        velocityMps: [column(() => 0), column(() => 0), column(() => 0)],
        longestStepS: 1,
      },
      {
        targetFrom: null,
        vehicleInTarget: rotationsAt(
          track((t) => [0, 0, yaw(t)]),
          tS,
          1,
        ),
        vehicleArmM: [-5, 0, 0],
        targetArmM: [0, 0, 0],
        attitudeStepS: 0.1,
      },
    );

  /** Source: recomputed, elementary: 5 m x sin 1 deg = 0.0873 m. */
  test('turns 1 deg into 0.0873 m across', () => {
    const { positionM } = still(() => DEG);
    expectWithin(positionM[1]?.[300], -0.0873, 5e-5, 'the source prints 0.1 mm');
    expectWithin(positionM[0]?.[300], 5, 1e-3, '5 m x cos 1 deg');
  });

  /** Source: recomputed, elementary: 0.2 deg/s x 5 m = 0.01745 m/s. */
  test('turns 0.2 deg/s into 0.01745 m/s across', () => {
    const { velocityMps } = still((t) => 0.2 * DEG * (t - 30));
    expectWithin(velocityMps?.[1]?.[300], -0.01745, 5e-6, 'the source prints 0.01 mm/s');
    expectWithin(velocityMps?.[0]?.[300], 0, 1e-6, 'across alone where the arm lies along x');
  });
});

describe('attitudes', () => {
  const angles: Angles = (t) => [0.3 + 0.01 * t, -0.2, 2.5 + 0.02 * t];

  /** By hand: Rz(90 deg) takes x to y and y to -x. */
  test('a yaw of 90 deg takes x to y', () => {
    const [x, y, z] = turnedVector(
      rotationsAt(
        track(() => [0, 0, 90 * DEG]),
        tS,
        1,
      ),
      [1, 2, 3],
    );
    expectWithin(x?.[5], -2, 1e-12, 'rounding');
    expectWithin(y?.[5], 1, 1e-12, 'rounding');
    expectWithin(z?.[5], 3, 1e-12, 'rounding');
  });

  test('a quaternion and its negative are one attitude, also where the sign changes from row to row', () => {
    const plain = rotationsAt(track(angles), tS, 1);
    const turned = rotationsAt(
      attitudeTrack(tS, (i) => {
        const [w, x, y, z] = quaternionOfAngles(...angles(tS[i] ?? 0));
        const scale = i % 2 === 0 ? 3 : -0.5;
        return [w * scale, x * scale, y * scale, z * scale];
      }),
      tS,
      1,
    );
    plain.forEach((element, k) => {
      expectWithin(turned[k]?.[77], element[77] ?? Number.NaN, 1e-12, 'rounding');
    });
  });

  test('there and back again is where it was; nothing is told inside a gap', () => {
    const there = rotationsAt(track(angles), tS, 1);
    const both = turnedBoth(turnedBack(there), there);
    const identity = [1, 0, 0, 0, 1, 0, 0, 0, 1];
    identity.forEach((wanted, k) => {
      expectWithin(both[k]?.[123], wanted, 1e-12, 'rounding');
    });
    const torn = attitudeTrack(Float64Array.of(0, 1, 30, 31), () => [1, 0, 0, 0]);
    expect(rotationsAt(torn, Float64Array.of(0.5, 15), 2)[0]).toEqual(
      Float64Array.of(1, Number.NaN),
    );
  });
});

/**
 * By construction: ports that move as wished, a target and a vehicle that turn as wished, points at
 * their own places; what a sensor between the points would see in axes of the orbit, differentiated
 * numerically, is brought back.
 */
test('points on two turning bodies, seen in axes of the orbit, come back as the ports', () => {
  const portM = (t: number) => [60 - 0.2 * t, 0.3 * Math.sin(0.05 * t), 0.1 * t - 2] as const;
  const target = track((t) => [0.01 * Math.sin(0.1 * t), 0.03, 0.05 * Math.cos(0.07 * t)]);
  const vehicle = track((t) => [0.02, 0.04 * Math.sin(0.09 * t), 3.1 + 0.001 * t]);
  const [vehicleArmM, targetArmM] = [[4, 0.2, -0.5] as const, [-7, 1, 2] as const];
  const seen = (at: Float64Array) => {
    const targetAt = rotationsAt(target, at, 1);
    const arm = turnedVector(rotationsAt(vehicle, at, 1), vehicleArmM);
    const port = [0, 1, 2].map((axis) =>
      Float64Array.from(at, (t) => (portM(t)[axis] ?? 0) + (targetArmM[axis] ?? 0)),
    );
    // r' = T (port + b) - C a, by hand from the same definitions.
    return [0, 1, 2].map((axis) =>
      Float64Array.from(at, (_, i) => {
        let sum = 0;
        for (let k = 0; k < 3; k++) sum += (targetAt[3 * axis + k]?.[i] ?? 0) * (port[k]?.[i] ?? 0);
        return sum - (arm[axis]?.[i] ?? 0);
      }),
    );
  };
  const rows = tS.subarray(50, 550);
  const [before, after] = [seen(rows.map((t) => t - 0.1)), seen(rows.map((t) => t + 0.1))];
  const positionM = seen(rows);
  const velocityMps = positionM.map((_, axis) =>
    rows.map((_, i) => ((after[axis]?.[i] ?? 0) - (before[axis]?.[i] ?? 0)) / 0.2),
  );
  const targetFrom = turnedBack(rotationsAt(target, rows, 1));
  const found = toPorts(
    { tS: rows, positionM, velocityMps, longestStepS: 1 },
    {
      targetFrom,
      vehicleInTarget: turnedBoth(targetFrom, rotationsAt(vehicle, rows, 1)),
      vehicleArmM,
      targetArmM,
      attitudeStepS: 0.1,
    },
  );
  for (const row of [100, 250, 400]) {
    const t = rows[row] ?? 0;
    [0, 1, 2].forEach((axis) => {
      expectWithin(found.positionM[axis]?.[row], portM(t)[axis] ?? 0, 1e-9, 'rounding');
      const rate = ((portM(t + 1e-3)[axis] ?? 0) - (portM(t - 1e-3)[axis] ?? 0)) / 2e-3;
      expectWithin(
        found.velocityMps?.[axis]?.[row],
        rate,
        5e-4,
        'lines over 2 s of turns that bend',
      );
    });
  }
});

describe('axes that turn with a noisy attitude', () => {
  /**
   * By hand: white noise of 0.01 deg (1.7453e-4 rad) an update; the slope of a straight line through 21
   * updates 0.1 s apart has 1 / sqrt(sum of (t - mean)^2) = 1 / sqrt(0.01 x 770) = 0.36038 of it a second,
   * 6.29e-5 rad/s. At 200 m along the axis that is 12.58 mm/s across it and nothing along it.
   * Source: elementary; variance of a least-squares slope, and d omega x r.
   */
  const NOISE = 0.01 * DEG;
  const SLOPE = NOISE / Math.sqrt(0.01 * 770);
  const random = seededRandom(11);
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const noisy = attitudeTrack(tS, () =>
    quaternionOfAngles(NOISE * normal(), NOISE * normal(), NOISE * normal()),
  );
  const motion = {
    tS,
    positionM: [column(() => 200), column(() => 0), column(() => 0)],
    velocityMps: [column(() => 0), column(() => 0), column(() => 0)],
    longestStepS: 1,
  };
  const turned = turnedBack(rotationsAt(noisy, tS, 1));
  const geometry = {
    targetFrom: turned,
    vehicleInTarget: null,
    vehicleArmM: [0, 0, 0],
    targetArmM: [0, 0, 0],
    attitudeStepS: 0.1,
  } as const;
  const found = toPorts(motion, geometry);

  test('0.01 deg at 200 m is 12.6 mm/s across, and nothing along', () => {
    expectWithin(SLOPE * 200, 0.01258, 5e-6, 'by hand, 0.01 mm/s');
    const [x, y, z] = found.turnSdMps ?? [];
    expectWithin(y?.[300], SLOPE * 200, 0.0025, 'noise told from some 250 rows: a fifth');
    expectWithin(z?.[300], SLOPE * 200, 0.0025, 'as above');
    expect(x?.[300]).toBeLessThan(1e-4);
    expect(found.rateSdMps).toBe(0);
  });

  test('an attitude that is not known in the middle has the same noise beside that', () => {
    const middle = tS.length >> 1;
    const gappy = turned.map((values) =>
      values.map((value, row) => (Math.abs(row - middle) < 20 ? Number.NaN : value)),
    );
    const [, y] = toPorts(motion, { ...geometry, targetFrom: gappy }).turnSdMps ?? [];
    expectWithin(y?.[100], SLOPE * 200, 0.0025, 'as above');
  });

  test('the velocities that come out scatter by as much as is said', () => {
    for (const axis of [1, 2]) {
      const apart = [...(found.velocityMps?.[axis] ?? [])].filter(
        (_, row) => row >= 20 && row < 581 && row % 21 === 0,
      );
      const rms = Math.sqrt(apart.reduce((sum, mps) => sum + mps * mps, 0) / apart.length);
      expectWithin(rms, SLOPE * 200, 0.005, '27 velocities apart: 95 % within 27 % of it');
    }
  });

  /** By hand: rows of the matrix y and z see the other two turns, as the comment of `turnNoise` says. */
  test('turns about three axes are told apart', () => {
    // e = (1, 2, 3): rows x (0, e_z, e_y), y (e_z, 0, e_x), z (e_y, e_x, 0) of a matrix near one.
    const about = turnNoise([0, 3, 2, 3, 0, 1, 2, 1, 0]);
    about.forEach((sd, axis) => {
      expectWithin(sd, axis + 1, 1e-12, 'rounding');
    });
    expect(turnNoise([0, 0, 0, 0, 0, 0, 0, 0, 0])).toEqual([0, 0, 0]);
  });
});
