/** What people say about a log's clock: judgements of spoken values, and tie points set by hand. */
import type { WeighedPoint } from '../clock/fit-line';

/** Who said it and why, in their words; null where they did not say. */
type Said = Readonly<{ by: string | null; reason: string | null }>;

/** A spoken value by its place: the line of the log, and which of that line's values (from 1). */
export type SpokenPlace = Readonly<{ source: string; line: number; nth: number }>;

/**
 * One correction. `accept` makes a doubtful value a certain one; `correct` also says what was really
 * said (m, or m/s closing); `reject` keeps it out of the clock; `tie-point` sets a moment of the
 * source's own clock on session time, with a standard deviation, all in seconds.
 */
export type ClockCorrection =
  | (Readonly<{ kind: 'accept' | 'reject' }> & SpokenPlace & Said)
  | (Readonly<{ kind: 'correct'; quantity: 'range' | 'rate'; saidSi: number }> & SpokenPlace & Said)
  | (Readonly<{ kind: 'tie-point'; source: string } & HandTie> & Said);

/** A moment of a source's clock set on session time by hand. */
export type HandTie = WeighedPoint;

/** Tie points that people set on a source. */
export function handTiesOf(
  corrections: readonly ClockCorrection[],
  source: string,
): readonly HandTie[] {
  return corrections.flatMap((one) =>
    one.kind === 'tie-point' && one.source === source ? [one] : [],
  );
}
