/** The attitude of a body over time, from quaternions or from angles. */
import { resampleLinear } from '../series/resample';

/** Updates of an attitude as unit quaternions of one sign throughout: columns w, x, y, z. */
export type AttitudeTrack = Readonly<{
  tS: Float64Array;
  q: readonly Float64Array[];
  /** Median time between updates, s. */
  stepS: number;
}>;

/** The nine elements of a rotation, row by row, each a column over time. */
export type RotationColumns = readonly Float64Array[];

type Quaternion = readonly [w: number, x: number, y: number, z: number];

/**
 * Quaternion of a rotation about z by `yaw`, then about the new y by `pitch`, then about the new x by
 * `roll`; for small angles the order does not matter.
 *
 * Source: elementary; half angles about each axis in turn, multiplied.
 */
export function quaternionOfAngles(roll: number, pitch: number, yaw: number): Quaternion {
  const [cr, sr] = [Math.cos(roll / 2), Math.sin(roll / 2)];
  const [cp, sp] = [Math.cos(pitch / 2), Math.sin(pitch / 2)];
  const [cy, sy] = [Math.cos(yaw / 2), Math.sin(yaw / 2)];
  return [
    cr * cp * cy + sr * sp * sy,
    sr * cp * cy - cr * sp * sy,
    cr * sp * cy + sr * cp * sy,
    cr * cp * sy - sr * sp * cy,
  ];
}

/**
 * A track from its updates, each made a unit and given the sign of the one before it: a quaternion and
 * its negative are one attitude, and nothing is interpolated between the two.
 *
 * @param tS times of the updates, strictly ascending, s
 * @param at the quaternion of an update; of any length but 0
 */
export function attitudeTrack(tS: Float64Array, at: (index: number) => Quaternion): AttitudeTrack {
  const q = [0, 1, 2, 3].map(() => new Float64Array(tS.length));
  let before: Quaternion = [1, 0, 0, 0];
  for (let i = 0; i < tS.length; i++) {
    const raw = at(i);
    const length = Math.hypot(...raw);
    const product = raw.reduce((sum, part, k) => sum + part * (before[k] ?? 0), 0);
    const scale = (product < 0 ? -1 : 1) / length;
    before = [raw[0] * scale, raw[1] * scale, raw[2] * scale, raw[3] * scale];
    for (let k = 0; k < 4; k++) q[k]?.fill(before[k] ?? Number.NaN, i, i + 1);
  }
  const steps = Array.from(tS.subarray(1), (atS, i) => atS - (tS[i] ?? atS)).sort((a, b) => a - b);
  return { tS, q, stepS: steps[steps.length >> 1] ?? Number.NaN };
}

/**
 * Rotations of a track at other times: straight between two updates and made a unit again, which for
 * turns of some degrees between updates differs from an even turn by less than a part in a thousand.
 *
 * @param longestStepS updates further apart have a gap between them, s
 * @returns from the body's axes to those the attitude is stated against; NaN in gaps and outside
 *
 * Source: elementary; rotation matrix of a unit quaternion.
 */
export function rotationsAt(
  track: AttitudeTrack,
  atS: Float64Array,
  longestStepS: number,
): RotationColumns {
  const gapS = Math.max(longestStepS, 5 * track.stepS);
  const [w, x, y, z] = track.q.map((column) => resampleLinear(track.tS, column, atS, gapS));
  const out = Array.from({ length: 9 }, () => new Float64Array(atS.length));
  for (let row = 0; row < atS.length; row++) {
    const raw = [w, x, y, z].map((column) => column?.[row] ?? Number.NaN);
    const length = Math.hypot(...raw);
    const [a = 0, b = 0, c = 0, d = 0] = raw.map((part) => part / length);
    const elements = [
      1 - 2 * (c * c + d * d),
      2 * (b * c - a * d),
      2 * (b * d + a * c),
      2 * (b * c + a * d),
      1 - 2 * (b * b + d * d),
      2 * (c * d - a * b),
      2 * (b * d - a * c),
      2 * (c * d + a * b),
      1 - 2 * (b * b + c * c),
    ];
    elements.forEach((element, index) => {
      out[index]?.fill(element, row, row + 1);
    });
  }
  return out;
}

/** The rotations the other way: rows for columns. */
export function turnedBack(rotation: RotationColumns): RotationColumns {
  return [0, 3, 6, 1, 4, 7, 2, 5, 8].map((index) => rotation[index] ?? new Float64Array(0));
}

/** Products of two rotations at each time, right to left. */
export function turnedBoth(first: RotationColumns, second: RotationColumns): RotationColumns {
  const n = first[0]?.length ?? 0;
  return Array.from({ length: 9 }, (_, index) => {
    const row = 3 * Math.floor(index / 3);
    const column = index % 3;
    const out = new Float64Array(n);
    for (let i = 0; i < n; i++) {
      let sum = 0;
      for (let k = 0; k < 3; k++) {
        sum += (first[row + k]?.[i] ?? Number.NaN) * (second[3 * k + column]?.[i] ?? Number.NaN);
      }
      out[i] = sum;
    }
    return out;
  });
}

/** A vector fixed in the body, turned at each time. */
export function turnedVector(
  rotation: RotationColumns,
  vector: readonly number[],
): readonly Float64Array[] {
  return [0, 3, 6].map((row) => {
    const [a, b, c] = [rotation[row], rotation[row + 1], rotation[row + 2]];
    return Float64Array.from(
      a ?? [],
      (one, i) =>
        one * (vector[0] ?? 0) +
        (b?.[i] ?? Number.NaN) * (vector[1] ?? 0) +
        (c?.[i] ?? Number.NaN) * (vector[2] ?? 0),
    );
  });
}
