/** How fast axes turn that go round with an orbit. */

/** Of the Earth, m3/s2. Source: World Geodetic System 1984 (WGS 84), NIMA TR8350.2. */
const EARTH_GM_M3PS2 = 3.986004418e14;
/** Semi-major axis of the same, m. */
const EARTH_RADIUS_M = 6_378_137;

/**
 * Mean motion of a circular orbit of the Earth.
 *
 * @param altitudeM above the equatorial radius
 * @returns rad/s
 *
 * Valid: two bodies; the flattening changes it by some 0.1 %.
 * Source: Kepler's third law.
 */
export function meanMotionRadPerS(altitudeM: number): number {
  return Math.sqrt(EARTH_GM_M3PS2 / (EARTH_RADIUS_M + altitudeM) ** 3);
}
