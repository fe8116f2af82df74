/** One moment that two clocks share. */
import type { ClockTerms } from './clock-terms';

/**
 * A moment on a source's clock and where it belongs on session time.
 *
 * `range`: a spoken range and its crossing; `event`: contact or capture called, whose instant is
 * known; `stated`: a tie point of the session file; `hand`: one that a person set.
 */
export type ClockTie = Readonly<{
  kind: 'range' | 'event' | 'stated' | 'hand';
  /** What was said or stated, for a person to know it by. */
  label: string;
  /** Line of the log; null for a point that is in no log. */
  line: number | null;
  /** Place among the spoken values of the log; null for anything else. */
  spokenIndex: number | null;
  sourceS: number;
  /** Where the evidence puts it on session time, the mean lag added; null where nowhere. */
  sessionS: number | null;
  /** `sessionS` minus the clock's, s; `beforeS` the same with the source's time as session time. */
  residualS: number | null;
  residualBeforeS: number | null;
  /** Standard deviation that the fit gives it, s; null for one that is not weighed. */
  sdS: number | null;
  /** Its share of all weights, 0 to 1; 0 where it is not used. */
  weight: number;
  used: boolean;
  /** Why it was used or rejected, in words. */
  reason: string;
  /** The clock found without this one; null where it was not used or nothing is left without it. */
  without: ClockTerms | null;
  /** Standard deviation of the time that clock gives here, s; null with it. */
  withoutSdS: number | null;
}>;
