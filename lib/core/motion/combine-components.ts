/** Range, rate and lateral offset from three components, or from a range alone. */
import { blank, type Component } from './estimate-component';
import type { MotionEstimate } from './motion-estimate';

export type Combined = Omit<
  MotionEstimate,
  | 'tS'
  | 'stretches'
  | 'basis'
  | 'channels'
  | 'positionMethod'
  | 'rateMethod'
  | 'stepS'
  | 'rateSpanS'
  | 'ratePartingPerS'
  | 'rateLinesS'
  | 'unseenMps'
  | 'unseenMps2'
  | 'unseenJumpMps'
  | 'rateCourses'
  | 'between'
  | 'positionSpanS'
  | 'steps'
  | 'samples'
  | 'rateIsDerived'
>;

/** Turns the signs of a column. */
function negated(values: Float64Array): Float64Array {
  for (let row = 0; row < values.length; row++) values[row] = -(values[row] ?? Number.NaN);
  return values;
}

/**
 * Range, rate, offset and speed across at each row, each with the noise that its components give it.
 * The noise of the speed across is that of the velocity along its own direction; of none, of any direction.
 *
 * Takes the components over: what is formed is written into columns that are not asked for any more,
 * since memory that was never used before costs more than the sums of a row.
 */
export function combine(x: Component, y: Component, z: Component): Combined {
  const out = {
    rangeM: new Float64Array(x.positionM.length),
    rangeSdM: y.positionSdM,
    closingMps: z.velocityMps,
    closingSdMps: y.velocitySdMps,
    axialM: x.positionM,
    axialSdM: x.positionSdM,
    axialClosingMps: x.velocityMps,
    axialClosingSdMps: x.velocitySdMps,
    lateralM: new Float64Array(x.positionM.length),
    lateralSdM: z.positionSdM,
    crossMps: y.velocityMps,
    crossSdMps: z.velocitySdMps,
    yM: y.positionM,
    zM: z.positionM,
    rateHalfSpanS: x.halfSpanS,
  };
  fillCombined(x, y, z, out);
  return out;
}

/** The rows of `combine`, each read before it is written; the components stand beside each other since a loop over them costs three times as much. */
function fillCombined(x: Component, y: Component, z: Component, out: Combined): void {
  const { positionM: xM, positionSdM: xSdM, velocityMps: xMps, velocitySdMps: xSdMps } = x;
  const { positionM: yM, positionSdM: ySdM, velocityMps: yMps, velocitySdMps: ySdMps } = y;
  const { positionM: zM, positionSdM: zSdM, velocityMps: zMps, velocitySdMps: zSdMps } = z;
  const { rangeM, rangeSdM, closingMps, closingSdMps, axialClosingMps } = out;
  const { lateralM, lateralSdM, crossMps, crossSdMps } = out;
  for (let row = 0; row < xM.length; row++) {
    const px = xM[row] ?? Number.NaN;
    const py = yM[row] ?? Number.NaN;
    const pz = zM[row] ?? Number.NaN;
    const vx = xMps[row] ?? Number.NaN;
    const vy = yMps[row] ?? Number.NaN;
    const vz = zMps[row] ?? Number.NaN;
    const sx = xSdM[row] ?? Number.NaN;
    const sy = ySdM[row] ?? Number.NaN;
    const sz = zSdM[row] ?? Number.NaN;
    const ux = xSdMps[row] ?? Number.NaN;
    const uy = ySdMps[row] ?? Number.NaN;
    const uz = zSdMps[row] ?? Number.NaN;
    const range = Math.sqrt(px * px + py * py + pz * pz);
    const rate = (px * vx + py * vy + pz * vz) / range;
    const offset = Math.sqrt(py * py + pz * pz);
    const cross = Math.sqrt(Math.max(0, vx * vx + vy * vy + vz * vz - rate * rate));
    rangeM[row] = range;
    closingMps[row] = -rate;
    axialClosingMps[row] = -vx;
    lateralM[row] = offset;
    crossMps[row] = cross;

    const ax = px / range;
    const ay = py / range;
    const az = pz / range;
    rangeSdM[row] = Math.sqrt(ax * ax * sx * sx + ay * ay * sy * sy + az * az * sz * sz);
    const cx = (vx - rate * ax) / range;
    const cy = (vy - rate * ay) / range;
    const cz = (vz - rate * az) / range;
    const ofX = ax * ax * ux * ux + cx * cx * sx * sx;
    const ofY = ay * ay * uy * uy + cy * cy * sy * sy;
    const ofZ = az * az * uz * uz + cz * cz * sz * sz;
    closingSdMps[row] = Math.sqrt(ofX + ofY + ofZ);
    lateralSdM[row] =
      offset > 0
        ? Math.sqrt(py * py * sy * sy + pz * pz * sz * sz) / offset
        : Math.sqrt((sy * sy + sz * sz) / 2);
    const perM = rate / range;
    const wx = vx - perM * px;
    const wy = vy - perM * py;
    const wz = vz - perM * pz;
    crossSdMps[row] =
      cross > 0
        ? Math.sqrt(wx * wx * (ux * ux) + wy * wy * (uy * uy) + wz * wz * (uz * uz)) / cross
        : Math.sqrt((ux * ux) / 3 + (uy * uy) / 3 + (uz * uz) / 3);
  }
}

/** As `combine` where a range alone is measured. */
export function combineRange(range: Component): Combined {
  const n = range.positionM.length;
  const none = blank(n);
  return {
    rangeM: range.positionM,
    rangeSdM: range.positionSdM,
    closingMps: negated(range.velocityMps),
    closingSdMps: range.velocitySdMps,
    axialM: none,
    axialSdM: none,
    axialClosingMps: none,
    axialClosingSdMps: none,
    lateralM: none,
    lateralSdM: none,
    crossMps: none,
    crossSdMps: none,
    yM: none,
    zM: none,
    rateHalfSpanS: range.halfSpanS,
  };
}
