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
  | 'positionSpanS'
  | 'steps'
  | 'samples'
  | 'rateIsDerived'
>;

function negative(values: Float64Array): Float64Array {
  const out = new Float64Array(values.length);
  for (let row = 0; row < out.length; row++) out[row] = -(values[row] ?? Number.NaN);
  return out;
}

/** Noise of the speed across: that of the velocity along its own direction; of none, of any direction. */
function crossSd(parts: readonly Component[], row: number, perM: number, crossMps: number): number {
  let [along, any] = [0, 0];
  for (const { positionM, velocityMps, velocitySdMps } of parts) {
    const across = (velocityMps[row] ?? Number.NaN) - perM * (positionM[row] ?? Number.NaN);
    const variance = (velocitySdMps[row] ?? Number.NaN) ** 2;
    along += across * across * variance;
    any += variance / parts.length;
  }
  return crossMps > 0 ? Math.sqrt(along) / crossMps : Math.sqrt(any);
}

export function combine(x: Component, y: Component, z: Component): Combined {
  const n = x.positionM.length;
  const column = (): Float64Array => new Float64Array(n);
  const out = {
    rangeM: column(),
    rangeSdM: column(),
    closingMps: column(),
    closingSdMps: column(),
    axialM: x.positionM,
    axialSdM: x.positionSdM,
    axialClosingMps: negative(x.velocityMps),
    axialClosingSdMps: x.velocitySdMps,
    lateralM: column(),
    lateralSdM: column(),
    crossMps: column(),
    crossSdMps: column(),
    yM: y.positionM,
    zM: z.positionM,
  };
  const parts = [x, y, z];
  for (let row = 0; row < n; row++) {
    let squareM2 = 0;
    let productM2ps = 0;
    let speedSquare = 0;
    for (const part of parts) {
      const p = part.positionM[row] ?? Number.NaN;
      const v = part.velocityMps[row] ?? Number.NaN;
      squareM2 += p * p;
      productM2ps += p * v;
      speedSquare += v * v;
    }
    const rangeM = Math.sqrt(squareM2);
    const rateMps = productM2ps / rangeM;
    let rangeVar = 0;
    let rateVar = 0;
    for (const part of parts) {
      const along = (part.positionM[row] ?? Number.NaN) / rangeM;
      const across = ((part.velocityMps[row] ?? Number.NaN) - rateMps * along) / rangeM;
      const pSd = part.positionSdM[row] ?? Number.NaN;
      const vSd = part.velocitySdMps[row] ?? Number.NaN;
      rangeVar += along * along * pSd * pSd;
      rateVar += along * along * vSd * vSd + across * across * pSd * pSd;
    }
    const py = y.positionM[row] ?? Number.NaN;
    const pz = z.positionM[row] ?? Number.NaN;
    const sy = y.positionSdM[row] ?? Number.NaN;
    const sz = z.positionSdM[row] ?? Number.NaN;
    const lateralM = Math.sqrt(py * py + pz * pz);
    out.rangeM[row] = rangeM;
    out.rangeSdM[row] = Math.sqrt(rangeVar);
    out.closingMps[row] = -rateMps;
    out.closingSdMps[row] = Math.sqrt(rateVar);
    out.lateralM[row] = lateralM;
    out.lateralSdM[row] =
      lateralM > 0
        ? Math.sqrt(py * py * sy * sy + pz * pz * sz * sz) / lateralM
        : Math.sqrt((sy * sy + sz * sz) / 2);
    const crossMps = Math.sqrt(Math.max(0, speedSquare - rateMps * rateMps));
    out.crossMps[row] = crossMps;
    out.crossSdMps[row] = crossSd(parts, row, rateMps / rangeM, crossMps);
  }
  return out;
}

export function combineRange(range: Component): Combined {
  const n = range.positionM.length;
  const none = blank(n);
  return {
    rangeM: range.positionM,
    rangeSdM: range.positionSdM,
    closingMps: negative(range.velocityMps),
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
  };
}
