/** Offset and drift of a clock, and the way from it to session time. */

/** The two numbers that put a time from one clock onto the other. */
export type ClockTerms = Readonly<{ offsetS: number; driftPpm: number }>;

const PPM = 1e-6;

/**
 * Session time of a time on the source's own clock.
 *
 * @param sourceS seconds from zero on the source's clock
 * @returns session time, s
 */
export function toSessionSeconds(clock: ClockTerms, sourceS: number): number {
  // The identity stays exact: adding the small part keeps every digit of the large one.
  return sourceS + (clock.offsetS + sourceS * clock.driftPpm * PPM);
}

/** Time on the source's own clock at a session time, s: `toSessionSeconds` taken back. */
export function toSourceSeconds(clock: ClockTerms, sessionS: number): number {
  return (sessionS - clock.offsetS) / (1 + clock.driftPpm * PPM);
}
