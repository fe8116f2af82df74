/** GPS weeks that were counted modulo 1024, as receivers broadcast them. */
import type { Issue } from '../result';
import { WEEK_S } from './scale';

/** IS-GPS-200: the broadcast week number has ten bits. */
const WEEKS_PER_ROLLOVER = 1024;
const ROLLOVER_S = WEEKS_PER_ROLLOVER * WEEK_S;

/** A full count must bring the stamps this near to zero to be the likely reason. */
const NEAR_S = 52 * WEEK_S;

/**
 * Says where stamps lie whole rollovers before zero. Nothing is added to them.
 *
 * @param fromS first stamp of a source in `gps-week-seconds`, s from zero, on its own clock
 * @returns a warning; null where the weeks are counted in full
 *
 * Source: IS-GPS-200, week number modulo 1024 since 6 January 1980.
 */
export function rolloverIssue(file: string, fromS: number): Issue | null {
  const rollovers = Math.round(-fromS / ROLLOVER_S);
  if (rollovers < 1 || Math.abs(fromS + rollovers * ROLLOVER_S) > NEAR_S) return null;
  const weeks = rollovers * WEEKS_PER_ROLLOVER;
  return {
    code: 'gps-week-rollover',
    severity: 'warning',
    file,
    message: `its GPS weeks lie ${weeks} weeks before zero, as weeks counted modulo ${WEEKS_PER_ROLLOVER} do; write them in full, ${weeks} more`,
    expected: 'weeks counted on from 1980',
    received: `weeks ${weeks} too small`,
  };
}
