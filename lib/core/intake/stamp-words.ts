/** What is said where a file leaves open which day its stamps mean. */
import type { Issue } from '../result';
import { type DayTurn, LONGEST_PAUSE_S } from '../time/carry-days';
import type { DayResolution } from '../time/day-count';
import { durationText, sessionTimeText } from '../time/session-time-text';
import type { DateOrder, TimeCode } from '../time/time-code';

/** 17 April 2031, 09:12:30.25 UTC in each code that writes an instant; any time in the others. */
export const STAMP_EXAMPLES: Readonly<Record<TimeCode, string>> = {
  iso8601: '2031-04-17T09:12:30.25Z or 2031-107T09:12:30.25Z',
  'ccsds-a': '2031-04-17T09:12:30.25',
  'ccsds-b': '2031-107T09:12:30.25',
  'unix-seconds': '1934183550.25',
  'unix-milliseconds': '1934183550250',
  'unix-nanoseconds': '1934183550250000000',
  'gps-week-seconds': '2675 and 378768.25',
  'unix-microseconds': '1934183550250000',
  'julian-date': '2462973.88368345',
  'modified-julian-date': '62973.38368345',
  'days-since-1900': '47955.38368345',
  'days-since-1904': '46493.38368345',
  'elapsed-milliseconds': '33150250',
  'elapsed-seconds': '33150.25',
  'elapsed-dhms': '003:07:45:12.5 or 67:45:12',
};

/** Spellings that no code reads, and what to write in their place. */
const UNREAD: readonly (readonly [form: RegExp, instead: string])[] = [
  [/^\s*\d{1,2}([-/.])\d{1,2}\1\d{2}(?!\d)/, 'write years with four digits'],
  [/^\s*\d{2}-\d{3}[T ]/, 'write years with four digits'],
  [/[A-Za-z]{3,9}[-/ .]|[-/ ][A-Za-z]{3}/, 'write months as numbers, 2031-04-17'],
  [/:60(?:[.,]\d+)?(?:Z|$)/, 'the leap-second table has no second 60 there'],
  [/[T ]24:/, 'a day ends at 24:00:00'],
];

/** What to do about a stamp that no code reads; empty where its form says nothing. */
export function stampHint(text: string): string {
  const found = UNREAD.find(([form]) => form.test(text));
  return found === undefined ? '' : `; ${found[1]}`;
}

/** An issue without the file and line it belongs to. */
type Words = Omit<Issue, 'file' | 'line'>;
type TimesOfDay = Pick<DayTurn, 'beforeS' | 'afterS'>;

function stepWords({ beforeS, afterS }: TimesOfDay): string {
  return `${sessionTimeText(afterS, 3)} follows ${sessionTimeText(beforeS, 3)}`;
}

/** Says which step was taken for midnight, and how to say otherwise. */
export function midnightWords(first: TimesOfDay, count: number): Words {
  const more = count > 1 ? `; the days change ${count} times in all` : '';
  return {
    code: 'carried-over-midnight',
    severity: 'warning',
    message: `${stepWords(first)} without a date: taken for midnight, so that the times after it count on into the next day${more}. Write the day too (1:00:00:05) or dates if that is not meant`,
    received: sessionTimeText(first.afterS, 3),
  };
}

/** Says that a step may be midnight or not. */
export function midnightOpenWords(turn: TimesOfDay): Words {
  return {
    code: 'day-not-said',
    severity: 'error',
    message: `${stepWords(turn)} without a date: the next day, or a row out of order? Write the day too (1:00:00:05) or dates, or put the rows in order`,
    expected: 'times that go on, or dates',
    received: sessionTimeText(turn.afterS, 3),
  };
}

/** Says that a count of seconds since 1970 was carried through a leap second. */
export function leapSecondWords(): Words {
  return {
    code: 'leap-second-repeated',
    severity: 'warning',
    message:
      'its counts since 1970 come twice beside a leap second, for which they have none of their own: the rows counted twice are put into second 60. Write stamps as 23:59:60, or on the scale TAI or GPS, if that is not meant',
  };
}

const SPAN_WORDS: ReadonlyMap<number, string> = new Map([
  [86_400, ', as seconds of the day do'],
  [604_800, ', as seconds of the week do'],
  [3600, ', as seconds of the hour do'],
]);

/** Says where a counter was taken to begin again, and how to say otherwise. */
export function counterWords(
  { beforeS, afterS }: TimesOfDay,
  { spanS, count }: Readonly<{ spanS: number; count: number }>,
): Words {
  const more = count > 1 ? `; it begins again ${count} times in all` : '';
  const after = `${Math.round(afterS * 1e9) / 1e9} s`;
  const before = `${Math.round(beforeS * 1e9) / 1e9} s`;
  return {
    code: 'counter-carried-on',
    severity: 'warning',
    message: `${after} follows ${before}: taken for a counter that begins again at ${spanS} s${SPAN_WORDS.get(spanS) ?? ''}, so that the times after it count on${more}. Write counts that go on, or dates, if that is not meant`,
    received: after,
  };
}

/** A short length of time in the unit that needs fewest zeros. */
function shortText(lengthS: number): string {
  const units = [
    [1, 's'],
    [1e-3, 'ms'],
    [1e-6, 'us'],
    [1e-9, 'ns'],
  ] as const;
  const [size, unit] = units.find(([least]) => lengthS >= least) ?? [1e-9, 'ns'];
  return `${Number((lengthS / size).toPrecision(2))} ${unit}`;
}

/** Says how finely written days tell times apart. */
export function dayResolutionWords({ decimals, writtenS, doubleS }: DayResolution): Words {
  return {
    code: 'days-resolution',
    severity: 'note',
    message: `its times are days with ${decimals} decimals, which tell ${shortText(writtenS)} apart; a double of this size tells ${shortText(doubleS)} apart, so that what was made from doubles is no finer`,
  };
}

type NamedEnds = TimesOfFile & Readonly<{ name: string }>;
type TimesOfFile = Readonly<{ firstS: number; lastS: number }>;

const SHOWN_FILES = 6;

function listed(texts: readonly string[]): string {
  const more = texts.length - SHOWN_FILES;
  return more > 0 ? `${texts.slice(0, SHOWN_FILES).join(', ')} and ${more} more` : texts.join(', ');
}

const ORDER_FROM = {
  named: 'as their names are ordered',
  stated: 'as they are listed',
  dates: 'by the dates in their names',
  clock:
    'as their times of day go on without a long pause, though their names are ordered otherwise',
} as const;

/** Says in which order files of times of day were read, and where midnight lies between them. */
export function filesOrderWords(
  names: readonly string[],
  nights: readonly Readonly<{ at: number; days: number; pauseS: number }>[],
  from: keyof typeof ORDER_FROM,
): Words {
  const midnights = nights.map(({ at, days, pauseS }) => {
    const between = `${names[at - 1] ?? ''} and ${names[at] ?? ''}`;
    const pause = pauseS > LONGEST_PAUSE_S ? ` with a pause of ${durationText(pauseS, 0)}` : '';
    return days === 1 ? `${between}${pause}` : `${between} ${days} times${pause}`;
  });
  const isLong = nights.some(({ pauseS }) => pauseS > LONGEST_PAUSE_S);
  return {
    code: 'files-over-midnight',
    severity: from === 'clock' || isLong ? 'warning' : 'note',
    message: `its files hold times of day without a date and are read one after the other ${ORDER_FROM[from]}: ${listed(names)}; midnight lies between ${listed(midnights)}`,
  };
}

/** Says that dates in names were not taken for the days of the times. */
export function datesUnusedWords(): Words {
  return {
    code: 'dates-in-names-unused',
    severity: 'warning',
    message:
      'the names of its files are of more days than their times pass, which hold no date: they are read as a clock that goes on. Write the day too (1:00:00:05) or dates if days lie between the files',
  };
}

/** Says that files of times of day may follow each other in more than one way, or in none. */
export function filesOrderOpenWords(files: readonly NamedEnds[], given: 'stated' | 'named'): Words {
  const ends = files.map(
    ({ name, firstS, lastS }) =>
      `${name} (${sessionTimeText(firstS)} to ${sessionTimeText(lastS)})`,
  );
  const days =
    'write the day too (1:00:00:05), dates, or the date of each file in its name (tm-2031-04-17.csv)';
  const instead =
    given === 'stated'
      ? `list them in the order of their times where they are of one day, or ${days}`
      : `list them in their order under files, or ${days}`;
  return {
    code: 'files-order-open',
    severity: 'error',
    message: `its files hold times of day without a date, which leave open in what order and on which days they follow each other: ${listed(ends)}; ${instead}`,
    expected: 'files that go on one after the other, or dates',
  };
}

const ORDER_WORDS: Readonly<Record<DateOrder, string>> = {
  'day-month-year': 'the day first',
  'month-day-year': 'the month first',
};

/** Says in which order dates were read that the whole file leaves no doubt about. */
export function dateOrderWords(order: DateOrder): Words {
  return {
    code: 'date-order-found',
    severity: 'warning',
    message: `its dates end in the year and are read with ${ORDER_WORDS[order]}: the other order would give months beyond 12. State date_order: ${order} to say so`,
  };
}

const ORDER_CHOICES = 'time: { date_order: day-month-year } or { date_order: month-day-year }';

/** Says that dates may be read in two orders, or in none. */
export function dateOrderFault(kind: 'open' | 'mixed', date: string): Words {
  const message =
    kind === 'open'
      ? `the dates are written as ${date}, and no date of the file shows whether the day or the month comes first; state ${ORDER_CHOICES}`
      : `the dates are written as ${date}, some with the day first and some with the month first; write them alike, as 2031-04-17`;
  return { code: `date-order-${kind}`, severity: 'error', message, expected: ORDER_CHOICES };
}
