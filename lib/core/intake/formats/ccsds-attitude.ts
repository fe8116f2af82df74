/** Roll, pitch and yaw of an attitude message, as columns that can be mapped when asked. */
import { type CcsdsRow, type CcsdsSegment, metadataValue } from './ccsds-segment';

/** Names of the three columns, in degrees: rotations about X, Y and Z. */
export const ATTITUDE_ANGLES = ['ROLL', 'PITCH', 'YAW'] as const;

type Cells = CcsdsRow['cells'];

const DEGREES = 180 / Math.PI;
/** A quaternion whose norm is further from 1 is no rotation. */
const MOST_NORM_ERROR = 0.01;

/**
 * Angles of the sequence yaw, pitch, roll (about Z, the new Y, the new X) that turns frame A into
 * frame B.
 *
 * @param q vector part and scalar part of the quaternion from A to B
 * @returns roll, pitch, yaw, degrees; null where the norm is not 1
 *
 * Source: CCSDS 504.0-B-2 for the meaning of Q1, Q2, Q3 and QC (e sin(phi/2), cos(phi/2)); the
 * angles are those of the matrix M with v_B = M v_A, elementary.
 */
export function rollPitchYawDeg(
  q: readonly [number, number, number, number],
): readonly [number, number, number] | null {
  const norm = Math.hypot(...q);
  if (!(Math.abs(norm - 1) <= MOST_NORM_ERROR)) return null;
  const [x, y, z, s] = [q[0] / norm, q[1] / norm, q[2] / norm, q[3] / norm];
  const m11 = s * s + x * x - y * y - z * z;
  const m12 = 2 * (x * y + z * s);
  const m13 = 2 * (x * z - y * s);
  const m23 = 2 * (y * z + x * s);
  const m33 = s * s - x * x - y * y + z * z;
  return [
    DEGREES * Math.atan2(m23, m33),
    DEGREES * -Math.asin(Math.max(-1, Math.min(1, m13))),
    DEGREES * Math.atan2(m12, m11),
  ];
}

/** Version 1 may give the rotation the other way round. */
function isBackwards(segment: CcsdsSegment): boolean {
  return /^B2A$/i.test(metadataValue(segment, 'ATTITUDE_DIR') ?? '');
}

function fromQuaternion(segment: CcsdsSegment, cells: Cells): readonly number[] | null {
  const number = (name: string): number =>
    Number(cells.find(([keyword]) => keyword === name)?.[1] ?? Number.NaN);
  const sign = isBackwards(segment) ? -1 : 1;
  const vector = [number('Q1'), number('Q2'), number('Q3')] as const;
  return rollPitchYawDeg([sign * vector[0], sign * vector[1], sign * vector[2], number('QC')]);
}

/** Axes of EULER_ROT_SEQ, `321` or `ZYX`, as 0, 1, 2; null where one axis comes twice. */
function axesOf(sequence: string | null): readonly number[] | null {
  const axes = [...(sequence ?? '').trim().toUpperCase()].map((each) => '123XYZ'.indexOf(each) % 3);
  return axes.length === 3 && [0, 1, 2].every((axis) => axes.includes(axis)) ? axes : null;
}

function fromEuler(segment: CcsdsSegment, cells: Cells): readonly string[] | null {
  const axes = axesOf(metadataValue(segment, 'EULER_ROT_SEQ'));
  // Angles of the way back are not those of the way there with other signs.
  if (axes === null || isBackwards(segment)) return null;
  const texts = ['', '', ''];
  axes.forEach((axis, at) => {
    texts[axis] = cells.find(([keyword]) => keyword === `ANGLE_${at + 1}`)?.[1] ?? '';
  });
  return texts;
}

/**
 * What a row of an attitude segment says as roll, pitch and yaw: of a quaternion the angles of the
 * sequence Z, Y, X; of Euler angles about three different axes each angle under its axis.
 *
 * @returns cells to add to the row; none where its type gives no such angles
 */
export function attitudeAngleCells(segment: CcsdsSegment, { cells }: CcsdsRow): Cells {
  const type = metadataValue(segment, 'ATTITUDE_TYPE')?.toUpperCase() ?? '';
  const texts = type.startsWith('QUATERNION')
    ? fromQuaternion(segment, cells)?.map(String)
    : type.startsWith('EULER')
      ? fromEuler(segment, cells)
      : null;
  if (texts === null || texts === undefined) return [];
  return ATTITUDE_ANGLES.map((name, axis) => [name, texts[axis] ?? ''] as const);
}
