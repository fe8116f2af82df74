/**
 * An instant: integer nanoseconds of International Atomic Time since 1970-01-01T00:00:00 TAI.
 *
 * The only type of absolute time in the program. UTC, GPS, TT and mission time are ways to write
 * one (`parse.ts`, `format.ts`); arithmetic on them does not exist.
 */
export type Instant = Readonly<{ taiNs: bigint }>;
