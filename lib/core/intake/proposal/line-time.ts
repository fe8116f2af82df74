/** How the stamps of a plain text log are written, from its first lines. */

import { hasHalfDay } from '../../time/half-day';
import type { Instant } from '../../time/instant';
import { findDateOrder, numbersBeforeYear } from '../../time/ordered-date';
import { makeStampReader } from '../../time/stamp-reader';
import { DATE_ORDERS, type DateOrder, type TimeCode } from '../../time/time-code';
import { findSpacedStamp, makeLineReader } from '../formats/log-line';
import type { TimeProposal } from './time-proposal';

/** Codes that say most by themselves first: a date, colons, then plain numbers. */
const CODES: readonly TimeCode[] = ['iso8601', 'elapsed-dhms', 'unix-seconds', 'elapsed-seconds'];
const ANY_INSTANT: Instant = { taiNs: 0n };
/** Lines of speech that goes on have no stamp. */
const LEAST_SHARE = 1 / 3;
/** A count from 1970 is this large from 2001 on; a smaller one counts from somewhere else. */
const LEAST_UNIX_S = 1e9;

/** The order of dates that end in the year, of the lines that begin with one; null where none do. */
function findLineOrder(lines: readonly string[]): DateOrder | 'open' | null {
  const numbers = lines
    .map((line) => numbersBeforeYear(line.replace(/^\s*[[(]/, '')))
    .filter((each) => each !== null);
  if (numbers.length === 0) return null;
  const order = findDateOrder(
    Math.max(...numbers.map(([first]) => first)),
    Math.max(...numbers.map(([, second]) => second)),
  );
  return order === 'mixed' ? null : order;
}

/**
 * Proposes the code of the stamps at the start of lines.
 *
 * @param lines the first filled lines of the log
 * @returns code and why; the scale is open where a date has neither Z nor offset; null where too few
 *   lines start with a stamp of any code
 */
export function proposeLineTime(lines: readonly string[]): TimeProposal | null {
  const spaced = findSpacedStamp(lines);
  const order = findLineOrder(lines);
  for (const code of CODES) {
    const dated = order === null ? {} : { dateOrder: order === 'open' ? DATE_ORDERS[0] : order };
    const time = { columns: [], code, scale: 'UTC', from: ANY_INSTANT, ...dated } as const;
    const form = code === 'elapsed-dhms' ? spaced : 'none';
    const read = makeLineReader(makeStampReader(time, ANY_INSTANT), form);
    const stamped = lines.filter((line) => {
      const found = read(line);
      return found !== null && (code !== 'unix-seconds' || found.sourceS >= LEAST_UNIX_S);
    });
    const [first] = stamped;
    if (first === undefined || stamped.length < LEAST_SHARE * lines.length) continue;
    const isOpen = code === 'iso8601' && !/\d(?:Z|[+-]\d{2}:?\d{2})\b/.test(first);
    const said = isOpen ? '; nothing says on which scale' : '';
    return {
      columns: [],
      code,
      scale: isOpen ? null : 'UTC',
      since: code === 'elapsed-dhms' && stamped.every(hasHalfDay) ? 'midnight' : null,
      dateOrder: code === 'iso8601' ? order : null,
      reason: `lines begin as "${first.trim().slice(0, 30)}"${said}`,
    };
  }
  return null;
}
