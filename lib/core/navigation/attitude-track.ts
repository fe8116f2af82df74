/** The attitude of a body over time, from quaternions or from angles. */
import { median } from '../math/statistics';
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

type Columns = [Float64Array, Float64Array, Float64Array, Float64Array];
type Nine = [...Columns, ...Columns, Float64Array];

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
 * @param at the quaternion of an update, of any length; one of length 0 is no attitude and passed over
 */
export function attitudeTrack(tS: Float64Array, at: (index: number) => Quaternion): AttitudeTrack {
  const n = tS.length;
  const [w, x, y, z] = [0, 1, 2, 3].map(() => new Float64Array(n)) as Columns;
  let before: Quaternion = [1, 0, 0, 0];
  for (let i = 0; i < n; i++) {
    const [a, b, c, d] = at(i);
    const product = a * before[0] + b * before[1] + c * before[2] + d * before[3];
    const scale = (product < 0 ? -1 : 1) / Math.sqrt(a * a + b * b + c * c + d * d);
    const unit: Quaternion = [a * scale, b * scale, c * scale, d * scale];
    [w[i], x[i], y[i], z[i]] = unit;
    // One of no length is no attitude: the sign goes on from the last that is.
    if (scale * scale < Number.POSITIVE_INFINITY) before = unit;
  }
  const stepsS = tS.subarray(1).map((atS, i) => atS - (tS[i] ?? atS));
  return { tS, q: [w, x, y, z], stepS: median(stepsS) };
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
  const [w, x, y, z] = track.q.map((column) =>
    resampleLinear(track.tS, column, atS, gapS),
  ) as Columns;
  const n = atS.length;
  const out = Array.from({ length: 9 }, () => new Float64Array(n));
  const [xx, xy, xz, yx, yy, yz, zx, zy, zz] = out as Nine;
  for (let row = 0; row < n; row++) {
    const p = w[row] ?? Number.NaN;
    const q = x[row] ?? Number.NaN;
    const r = y[row] ?? Number.NaN;
    const s = z[row] ?? Number.NaN;
    // Twice over the square of the length: products of a unit's parts, doubled.
    const two = 2 / (p * p + q * q + r * r + s * s);
    xx[row] = 1 - two * (r * r + s * s);
    xy[row] = two * (q * r - p * s);
    xz[row] = two * (q * s + p * r);
    yx[row] = two * (q * r + p * s);
    yy[row] = 1 - two * (q * q + s * s);
    yz[row] = two * (r * s - p * q);
    zx[row] = two * (q * s - p * r);
    zy[row] = two * (r * s + p * q);
    zz[row] = 1 - two * (q * q + r * r);
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
    for (let k = 0; k < 3; k++) {
      const [left, right] = [first[row + k], second[3 * k + column]];
      for (let i = 0; i < n; i++) {
        out[i] = (out[i] ?? 0) + (left?.[i] ?? Number.NaN) * (right?.[i] ?? Number.NaN);
      }
    }
    return out;
  });
}

/** A vector fixed in the body, turned at each time. */
export function turnedVector(
  rotation: RotationColumns,
  vector: readonly number[],
): readonly Float64Array[] {
  const n = rotation[0]?.length ?? 0;
  return [0, 3, 6].map((row) => {
    const out = new Float64Array(n);
    for (let k = 0; k < 3; k++) {
      const [column, part] = [rotation[row + k], vector[k] ?? 0];
      for (let i = 0; i < n; i++) out[i] = (out[i] ?? 0) + part * (column?.[i] ?? Number.NaN);
    }
    return out;
  });
}
