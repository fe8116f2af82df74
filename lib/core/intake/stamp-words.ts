/** What is said where a file leaves open which day its stamps mean. */
import type { Issue } from '../result';
import type { DayTurn } from '../time/carry-days';
import { sessionTimeText } from '../time/session-time-text';
import type { DateOrder } from '../time/time-code';

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
  clock:
    'as their times of day go on without a long pause, though their names are ordered otherwise',
} as const;

/** Says in which order files of times of day were read, and where midnight lies between them. */
export function filesOrderWords(
  names: readonly string[],
  afterMidnight: readonly number[],
  from: keyof typeof ORDER_FROM,
): Words {
  const midnights = afterMidnight.map((at) => `${names[at - 1] ?? ''} and ${names[at] ?? ''}`);
  return {
    code: 'files-over-midnight',
    severity: from === 'clock' ? 'warning' : 'note',
    message: `its files hold times of day without a date and are read one after the other ${ORDER_FROM[from]}: ${listed(names)}; midnight lies between ${listed(midnights)}`,
  };
}

/** Says that files of times of day may follow each other in more than one way, or in none. */
export function filesOrderOpenWords(files: readonly NamedEnds[], given: 'stated' | 'named'): Words {
  const ends = files.map(
    ({ name, firstS, lastS }) =>
      `${name} (${sessionTimeText(firstS)} to ${sessionTimeText(lastS)})`,
  );
  const days = 'write the day too (1:00:00:05) or dates';
  const instead = given === 'stated' ? days : `list them in their order under files, or ${days}`;
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
