/** How far outside a zone the chaser is, over the estimated motion. */
import type { MotionEstimate } from '../motion/motion-estimate';
import type { Zone } from '../session/zone';

/** By row at which it is known: below 0 inside the zone, m, with its standard deviation. */
export type ZoneExcess = Readonly<{ tS: Float64Array; excessM: Float64Array; sdM: Float64Array }>;

type Excess = Readonly<{ m: number; sd: number }>;

function sphereExcess(motion: MotionEstimate, row: number, radiusM: number): Excess {
  const rangeM = motion.rangeM[row] ?? Number.NaN;
  return { m: rangeM - radiusM, sd: motion.rangeSdM[row] ?? Number.NaN };
}

/**
 * Of an ellipsoid: (rho - 1) times the least semi-axis, rho the root of the sum of (coordinate / semi-axis)
 * squared. It is 0 on the surface and straight along any line through the centre.
 */
function ellipsoidExcess(
  motion: MotionEstimate,
  row: number,
  [aM, bM, cM]: readonly [number, number, number],
): Excess {
  const at = (column: 'axialM' | 'yM' | 'zM'): number => motion[column][row] ?? Number.NaN;
  const [u, v, w] = [at('axialM') / aM, at('yM') / bM, at('zM') / cM];
  const rho = Math.hypot(u, v, w);
  const leastM = Math.min(aM, bM, cM);
  const axialSd = (u / aM) * (motion.axialSdM[row] ?? Number.NaN);
  const lateralSd = Math.hypot(v / bM, w / cM) * (motion.lateralSdM[row] ?? Number.NaN);
  const sd = rho === 0 ? 0 : Math.hypot(axialSd, lateralSd) / rho;
  return { m: (rho - 1) * leastM, sd: sd * leastM };
}

/** The farther outside of the shape and of the axial bounds. */
function excessAt(motion: MotionEstimate, row: number, { shape, axialM }: Zone): Excess {
  const ofShape =
    shape.kind === 'sphere'
      ? sphereExcess(motion, row, shape.radiusM)
      : ellipsoidExcess(motion, row, shape.semiAxesM);
  if (axialM === null) return ofShape;
  const x = motion.axialM[row] ?? Number.NaN;
  const beyondM = Math.max(axialM[0] - x, x - axialM[1]);
  if (ofShape.m >= beyondM) return ofShape;
  return { m: beyondM, sd: motion.axialSdM[row] ?? Number.NaN };
}

/**
 * How far outside a zone the chaser is, row by row; for the instants at which it passes 0.
 *
 * @returns rows at which the position is known, ascending; none where only range is measured and the zone
 *   asks for components
 *
 * Valid: an ellipsoid's excess is a distance only along its least semi-axis; its sign and its zero are
 * exact. Source: elementary.
 */
export function zoneExcess(motion: MotionEstimate, zone: Zone): ZoneExcess {
  const rows: number[] = [];
  const excess: Excess[] = [];
  for (let row = 0; row < motion.tS.length; row++) {
    const here = excessAt(motion, row, zone);
    if (Number.isNaN(here.m)) continue;
    rows.push(row);
    excess.push(here);
  }
  return {
    tS: Float64Array.from(rows, (row) => motion.tS[row] ?? Number.NaN),
    excessM: Float64Array.from(excess, ({ m }) => m),
    sdM: Float64Array.from(excess, ({ sd }) => sd),
  };
}
