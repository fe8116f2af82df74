/** Relative motion near a target on a circular orbit (Clohessy-Wiltshire). */

/**
 * State of chaser relative to target, m and m/s, in axes that turn with the target: x radial
 * outward, y along the velocity, z along the orbit's normal (RTN).
 */
export type RelativeStateRtn = Readonly<{
  frame: 'RTN';
  x: number;
  y: number;
  z: number;
  vx: number;
  vy: number;
  vz: number;
}>;

/**
 * Coasts the relative state.
 *
 * @param state at the start
 * @param meanMotionRadPerS mean motion of the target's circular orbit, rad/s
 * @param durationS time to coast, s; may be negative
 * @returns the state afterwards
 *
 * Valid: separation small against the orbit's radius (330 m over 100 s at geostationary height: below
 * 1e-6 m), no drag, no thrust; not checked.
 * Source: W. H. Clohessy, R. S. Wiltshire, J. Aerospace Sci. 27 (1960) 653; D. A. Vallado,
 * "Fundamentals of Astrodynamics and Applications", algorithm 48.
 */
export function coastRelative(
  state: RelativeStateRtn,
  meanMotionRadPerS: number,
  durationS: number,
): RelativeStateRtn {
  const n = meanMotionRadPerS;
  const angle = n * durationS;
  const s = Math.sin(angle);
  const c = Math.cos(angle);
  const { x, y, z, vx, vy, vz } = state;
  return {
    frame: 'RTN',
    x: (4 - 3 * c) * x + (s / n) * vx + (2 / n) * (1 - c) * vy,
    y: 6 * (s - angle) * x + y + (2 / n) * (c - 1) * vx + ((4 * s - 3 * angle) / n) * vy,
    z: c * z + (s / n) * vz,
    vx: 3 * n * s * x + c * vx + 2 * s * vy,
    vy: 6 * n * (c - 1) * x - 2 * s * vx + (4 * c - 3) * vy,
    vz: -n * s * z + c * vz,
  };
}

/** A velocity of chaser relative to target in RTN, m/s. */
export type VelocityRtn = Readonly<{ frame: 'RTN'; vx: number; vy: number; vz: number }>;

/**
 * Velocity at the start that leads to the target in a given time.
 *
 * @param from position at the start (its velocity is not used)
 * @param meanMotionRadPerS mean motion of the target, rad/s
 * @param durationS time to the target, s
 * @returns the velocity needed, m/s; not finite where the time is a multiple of half an orbit and
 *   no or no single such velocity exists
 *
 * Source: Vallado, "Fundamentals of Astrodynamics and Applications", section 6.8 (rendezvous).
 */
export function velocityToTarget(
  from: Pick<RelativeStateRtn, 'x' | 'y' | 'z'>,
  meanMotionRadPerS: number,
  durationS: number,
): VelocityRtn {
  const n = meanMotionRadPerS;
  const angle = n * durationS;
  const s = Math.sin(angle);
  const c = Math.cos(angle);
  // [x; y] at the end = A [x; y] + B [vx; vy] = 0, B of 2 x 2.
  const restX = (4 - 3 * c) * from.x;
  const restY = 6 * (s - angle) * from.x + from.y;
  const b11 = s / n;
  const b12 = (2 / n) * (1 - c);
  const b22 = (4 * s - 3 * angle) / n;
  const determinant = b11 * b22 + b12 * b12;
  return {
    frame: 'RTN',
    vx: (-restX * b22 + restY * b12) / determinant,
    vy: (-restY * b11 - restX * b12) / determinant,
    vz: (-n * c * from.z) / s,
  };
}

/** The two changes of velocity of a rendezvous that ends at rest at the target, m/s. */
export type TwoImpulse = Readonly<{
  departure: VelocityRtn;
  arrival: VelocityRtn;
  departureMps: number;
  arrivalMps: number;
}>;

/**
 * Two-impulse rendezvous: off now, at rest at the target after the given time.
 *
 * @returns the changes of velocity (after minus before) and their sizes
 */
export function twoImpulseRendezvous(
  state: RelativeStateRtn,
  meanMotionRadPerS: number,
  durationS: number,
): TwoImpulse {
  const needed = velocityToTarget(state, meanMotionRadPerS, durationS);
  const end = coastRelative({ ...state, ...needed }, meanMotionRadPerS, durationS);
  const departure: VelocityRtn = {
    frame: 'RTN',
    vx: needed.vx - state.vx,
    vy: needed.vy - state.vy,
    vz: needed.vz - state.vz,
  };
  const arrival: VelocityRtn = { frame: 'RTN', vx: -end.vx, vy: -end.vy, vz: -end.vz };
  return {
    departure,
    arrival,
    departureMps: Math.hypot(departure.vx, departure.vy, departure.vz),
    arrivalMps: Math.hypot(arrival.vx, arrival.vy, arrival.vz),
  };
}

/**
 * How far the relative orbit drifts along the track in one revolution, m.
 *
 * Zero exactly when vy = -2 n x.
 */
export function driftPerOrbitM(state: RelativeStateRtn, meanMotionRadPerS: number): number {
  return -12 * Math.PI * state.x - (6 * Math.PI * state.vy) / meanMotionRadPerS;
}

/** Mean motion of a circular orbit, rad/s, from the gravitational parameter (m3/s2) and radius (m). */
export function meanMotionRadPerS(gravityM3PerS2: number, radiusM: number): number {
  return Math.sqrt(gravityM3PerS2 / (radiusM * radiusM * radiusM));
}
