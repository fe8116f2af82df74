/** A velocity that was taken in axes which do not turn. */
import type { Vector } from '../session/measured-points';

/**
 * A velocity taken in inertial axes, brought into axes that turn: v rotating = v inertial - omega x r,
 * both written in the turning axes.
 *
 * @param positionM columns along x, y and z
 * @param velocityMps likewise, inertial
 * @param turnRadPerS omega of the axes, in those axes
 * @returns the rate of the position in its own axes, m/s
 *
 * Source: elementary, the transport theorem; see Curtis, "Orbital Mechanics for Engineering
 * Students", section 1.7 (from memory).
 */
export function intoTurningAxes(
  positionM: readonly Float64Array[],
  velocityMps: readonly Float64Array[],
  turnRadPerS: Vector,
): readonly Float64Array[] {
  return velocityMps.map((column, axis) => {
    const next = (axis + 1) % 3;
    const last = (axis + 2) % 3;
    const wNext = turnRadPerS[next] ?? 0;
    const wLast = turnRadPerS[last] ?? 0;
    return column.map(
      (mps, row) =>
        mps -
        (wNext * (positionM[last]?.[row] ?? Number.NaN) -
          wLast * (positionM[next]?.[row] ?? Number.NaN)),
    );
  });
}
