/** How a source's own time lies on session time, with how well that is known. */

/**
 * session = offsetS + source x (1 + driftPpm x 1e-6), both in seconds from zero.
 *
 * Uncertainties are half-widths of the 95 % interval; null where nothing tells them. `used` and
 * `rejected` count tie points (or spoken ranges); `reason` says in words what was left out and why.
 */
export type ClockSolution = Readonly<{
  offsetS: number;
  offsetUncertaintyS: number | null;
  driftPpm: number;
  driftUncertaintyPpm: number | null;
  residualRmsS: number | null;
  used: number;
  rejected: number;
  reason: string | null;
}>;

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
