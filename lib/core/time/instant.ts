/**
 * An instant: integer nanoseconds of International Atomic Time since 1970-01-01T00:00:00 TAI.
 *
 * The only type of absolute time in the program. UTC, GPS, TT and mission time are ways to write
 * one (`parse.ts`, `format.ts`); arithmetic on them does not exist.
 */
export type Instant = Readonly<{ taiNs: bigint }>;

/** Nanoseconds in a second. */
export const NS_PER_S = 1_000_000_000;
const NS_PER_S_BIG = 1_000_000_000n;

/** Largest count of whole seconds whose nanoseconds a double still holds exactly (104 days). */
const EXACT_S = 9_007_199;

/**
 * Seconds as a double from whole seconds and nanoseconds, rounded once where a double allows it.
 *
 * @param wholeS whole seconds, any sign
 * @param ns nanoseconds, 0 to 999 999 999
 * @returns seconds; correctly rounded within 104 days of zero, within 0.5 ulp more beyond
 */
export function secondsFromParts(wholeS: number, ns: number): number {
  if (wholeS < EXACT_S && wholeS > -EXACT_S) return (wholeS * NS_PER_S + ns) / NS_PER_S;
  return wholeS + ns / NS_PER_S;
}

/**
 * Elapsed SI seconds from one instant to another.
 *
 * @param from the instant that counts as zero
 * @param to the instant to place
 * @returns to - from, s; exact to the nanosecond before it becomes a double
 */
export function secondsBetween(from: Instant, to: Instant): number {
  const deltaNs = to.taiNs - from.taiNs;
  const remainder = deltaNs % NS_PER_S_BIG;
  const ns = remainder < 0n ? remainder + NS_PER_S_BIG : remainder;
  return secondsFromParts(Number((deltaNs - ns) / NS_PER_S_BIG), Number(ns));
}
