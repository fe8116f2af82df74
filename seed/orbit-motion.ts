/**
 * Motion of the vehicle's docking port relative to the station's port, on a circular orbit.
 *
 * Axes of the station's port: x ahead along the orbit (the docking axis, away from the port),
 * y along the orbit normal, z up. Right-handed: ahead x normal = up.
 */

export type PortState = Readonly<{
  xM: number;
  yM: number;
  zM: number;
  vxMps: number;
  vyMps: number;
  vzMps: number;
}>;

/** Acceleration by jets or springs, m/s2, in the same axes. */
export type Push = Readonly<{ xMps2: number; yMps2: number; zMps2: number }>;

export const MEAN_MOTION_RAD_PER_S = 0.00113; // an orbit of some 93 minutes

/**
 * One step of the Clohessy-Wiltshire equations under a constant push.
 *
 * Taylor series to the third order: over a step of 0.1 s the first term left out is of the order
 * (n dt)^4 / 24 of the position, 7e-18.
 *
 * Valid: circular orbit, distance small against the orbit's radius; steps up to about a second.
 * Source: Vallado, "Fundamentals of Astrodynamics and Applications", 4th ed., section 6.8.
 */
export function stepMotion(state: PortState, push: Push, stepS: number): PortState {
  const n = MEAN_MOTION_RAD_PER_S;
  const ax = -2 * n * state.vzMps + push.xMps2;
  const ay = -n * n * state.yM + push.yMps2;
  const az = 3 * n * n * state.zM + 2 * n * state.vxMps + push.zMps2;
  const jx = -2 * n * az;
  const jy = -n * n * state.vyMps;
  const jz = 3 * n * n * state.vzMps + 2 * n * ax;
  const half = (stepS * stepS) / 2;
  const sixth = (half * stepS) / 3;
  return {
    xM: state.xM + state.vxMps * stepS + ax * half + jx * sixth,
    yM: state.yM + state.vyMps * stepS + ay * half + jy * sixth,
    zM: state.zM + state.vzMps * stepS + az * half + jz * sixth,
    vxMps: state.vxMps + ax * stepS + jx * half,
    vyMps: state.vyMps + ay * stepS + jy * half,
    vzMps: state.vzMps + az * stepS + jz * half,
  };
}
