/** Which column holds the stamps and how they are written, from names and values. */
import { writesDays } from '../../time/carry-days';
import { hasHalfDay } from '../../time/half-day';
import { findDateOrder, numbersBeforeYear } from '../../time/ordered-date';
import { type DateOrder, isElapsedCode, type TimeCode, type TimeScale } from '../../time/time-code';
import { columnWords } from './column-words';
import { areDays, proposeDays } from './day-numbers';

/** `scale` null: nothing says which, a person must. An elapsed code needs the session's zero. */
export type TimeProposal = Readonly<{
  columns: readonly string[];
  code: TimeCode;
  scale: TimeScale | null;
  /** `midnight`: an elapsed code counts from the start of a day, which is still to be said. */
  since: 'midnight' | null;
  /** Of dates that end in the year: the order they allow, `open` where both; null where none do. */
  dateOrder: DateOrder | 'open' | null;
  reason: string;
}>;

/** Columns and some of their cells: `cells[column][row]`. */
export type CellColumns = Readonly<{
  columns: readonly string[];
  cells: readonly (readonly string[])[];
  /** From a row under the header, by column; a time scale may stand among them. */
  units?: readonly string[] | null;
}>;

const DAY_OF_YEAR = /^\d{4}(?:-\d{3}[T ]|:\d{3}:|\/\d{3}\/)/;
const CALENDAR = /^\d{4}(?:([-/])\d{2}\1\d{2}[T ]|(?:\d{4}|\d{3})T\d{4})/;
const WITH_ORDER = /^\d{1,2}([/.-])\d{1,2}\1\d{4}[T ,] ?\d{1,2}:\d{2}/;
const CLOCK = /^[+-]?(?:\d+:)?\d+:\d{2}:\d{2}(?:[.,]\d+)?(?: ?[AP]\.?M\.?)?$/i;
const NUMBER = /^[+-]?\d+(?:[.,]\d+)?(?:[eE][+-]?\d+)?$/;
const NAMES_TIME =
  /^(?:t|time|times|utc|tai|tt|gps|gpst|met|get|epoch|stamp|timestamp|date|datetime|clock|elapsed|sec|seconds)$/;

/** Z, or an offset from UTC behind a time of day. */
const SAYS_UTC = /Z$|:\d{2}(?:[.,]\d+)?[+-]\d{2}(?::?\d{2})?$/;
const NAMES_DAYS = /^(?:mjd|serial|datenum|days)$/;

/** Sizes of numbers that count from 1970 between 2001 and 2040, and of Julian dates since 1858. */
const UNIX_S = [1e9, 2.21e9] as const;
const JULIAN = [2_400_000, 2_500_000] as const;

function numbersOf(cells: readonly string[]): readonly number[] {
  return cells.filter((cell) => NUMBER.test(cell)).map((cell) => Number(cell.replace(',', '.')));
}

function ascends(values: readonly number[]): boolean {
  let down = 0;
  for (const [index, value] of values.entries())
    if (value < (values[index - 1] ?? value)) down += 1;
  return (
    values.length > 1 && down <= 0.05 * values.length && (values.at(-1) ?? 0) > (values[0] ?? 0)
  );
}

function between(values: readonly number[], [low, high]: readonly [number, number]): boolean {
  return values.every((value) => value >= low && value < high);
}

/** The scale that a name gives: `t_gps`, `time_utc`. */
function scaleOf(words: readonly string[]): TimeScale | null {
  const scales: readonly (readonly [string, TimeScale])[] = [
    ['utc', 'UTC'],
    ['gmt', 'UTC'], // what the trade calls UTC; common practice, no source
    ['zulu', 'UTC'],
    ['tai', 'TAI'],
    ['gps', 'GPS'],
    ['gpst', 'GPS'],
    ['tt', 'TT'],
  ];
  return scales.find(([word]) => words.includes(word))?.[1] ?? null;
}

/** The words of a name with those in brackets behind it: `Time (UTC)`. */
function scaleWords(name: string): readonly string[] {
  const { words, unread } = columnWords(name);
  return unread === null ? words : [...words, ...columnWords(unread).words];
}

function numericCode(values: readonly number[], isNamed: boolean): TimeCode | null {
  const [low, high] = UNIX_S;
  if (between(values, UNIX_S)) return 'unix-seconds';
  if (between(values, [low * 1e3, high * 1e3])) return 'unix-milliseconds';
  if (between(values, [low * 1e6, high * 1e6])) return 'unix-microseconds';
  if (between(values, [low * 1e9, high * 1e9])) return 'unix-nanoseconds';
  if (between(values, JULIAN)) return 'julian-date';
  return isNamed ? 'elapsed-seconds' : null;
}

const DATE = /^(?:\d{4}([-/])\d{2}\1\d{2}|\d{1,2}([/.-])\d{1,2}\2\d{4})$/;
const DATE_OF_YEAR = /^\d{4}-\d{3}$/;
const TIME_OF_DAY =
  /^\d{1,2}:\d{2}(?::\d{2}(?:[.,]\d+)?)?(?: ?[AP]M)?(?:Z|[+-]\d{2}(?::?\d{2})?)?$/i;

/** The order of dates that end in the year, all of them; null where none do, or they contradict. */
function orderOf(cells: readonly string[]): DateOrder | 'open' | null {
  const numbers = cells.map(numbersBeforeYear).filter((each) => each !== null);
  if (numbers.length === 0 || numbers.length < cells.length) return null;
  const order = findDateOrder(
    Math.max(...numbers.map(([first]) => first)),
    Math.max(...numbers.map(([, second]) => second)),
  );
  return order === 'mixed' ? null : order;
}

const ORDER_SAID: Readonly<Record<DateOrder | 'open', string>> = {
  'day-month-year': '; the day stands first in its dates, for a number over 12 does',
  'month-day-year': '; the month stands first in its dates, for a number over 12 follows it',
  open: '; nothing shows whether the day or the month stands first',
};

function isEach(cells: readonly string[], form: RegExp): boolean {
  return cells.length > 1 && cells.every((cell) => form.test(cell.trim()));
}

/** A column of dates beside one of times of day. */
function dateAndTime({ columns, cells, units }: CellColumns): TimeProposal | null {
  const find = (...forms: readonly RegExp[]): number =>
    cells.findIndex((each) => forms.some((form) => isEach(each, form)));
  const [date, time] = [find(DATE, DATE_OF_YEAR), find(TIME_OF_DAY)];
  const [dateName, timeName] = [columns[date], columns[time]];
  if (dateName === undefined || timeName === undefined) return null;
  const isOfYear = isEach(cells[date] ?? [], DATE_OF_YEAR);
  const hasZ = (cells[time] ?? []).every((cell) => cell.trim().endsWith('Z'));
  const beside = [units?.[date] ?? '', units?.[time] ?? ''].map((unit) => unit.toLowerCase());
  const words = [...[dateName, timeName].flatMap(scaleWords), ...beside];
  const scale = scaleOf(words) ?? (hasZ ? 'UTC' : null);
  const dateOrder = orderOf((cells[date] ?? []).map((cell) => cell.trim()));
  const order = dateOrder === null ? '' : ORDER_SAID[dateOrder];
  const said = scale === null ? '; nothing says on which scale' : '';
  return {
    columns: [dateName, timeName],
    code: isOfYear ? 'ccsds-b' : 'iso8601',
    scale,
    since: null,
    dateOrder,
    reason: `"${dateName}" holds dates and "${timeName}" the times of day${order}${said}`,
  };
}

/** What the code says of a stamp, in words. */
const CODE_SAID: Readonly<Record<TimeCode, string>> = {
  iso8601: 'date and time of day',
  'ccsds-a': 'date and time of day',
  'ccsds-b': 'year, day of the year and time of day',
  'unix-seconds': 'seconds since 1970',
  'unix-milliseconds': 'milliseconds since 1970',
  'unix-microseconds': 'microseconds since 1970',
  'unix-nanoseconds': 'nanoseconds since 1970',
  'gps-week-seconds': 'GPS week and seconds of it',
  'julian-date': 'a Julian date',
  'modified-julian-date': 'a modified Julian date',
  'days-since-1900': 'days of a spreadsheet',
  'days-since-1904': 'days of a spreadsheet',
  'elapsed-seconds': 'seconds counted from an instant',
  'elapsed-milliseconds': 'milliseconds counted from an instant',
  'elapsed-dhms': 'hours, minutes and seconds, counted from an instant',
};

type Candidate = TimeProposal & Readonly<{ rank: number }>;

const RANKS: readonly TimeCode[] = [
  'iso8601',
  'ccsds-b',
  'unix-nanoseconds',
  'unix-microseconds',
  'unix-milliseconds',
  'unix-seconds',
  'julian-date',
  'modified-julian-date',
  'days-since-1904',
  'days-since-1900',
  'elapsed-dhms',
  'elapsed-milliseconds',
  'elapsed-seconds',
];

function textCode(cells: readonly string[]): TimeCode | null {
  if (cells.every((cell) => DAY_OF_YEAR.test(cell))) return 'ccsds-b';
  if (cells.every((cell) => CALENDAR.test(cell))) return 'iso8601';
  if (cells.every((cell) => WITH_ORDER.test(cell)) && orderOf(cells) !== null) return 'iso8601';
  return cells.every((cell) => CLOCK.test(cell)) ? 'elapsed-dhms' : null;
}

type DayClock = 'elapsed-seconds' | 'elapsed-milliseconds';
const CLOCK_SAID: Readonly<Record<DayClock, string>> = {
  'elapsed-seconds': 'seconds of the day, by its name; they count from a midnight',
  'elapsed-milliseconds': 'milliseconds of the day, by its name; they count from a midnight',
};
const LONGEST_DAY_S = 86_401;

/** Seconds or milliseconds of the day by a name such as `sod`, `sec_of_day`, `ms_of_day`. */
function dayClock(name: string, values: readonly number[], isNumeric: boolean): DayClock | null {
  const whole = name.toLowerCase().replace(/[^a-z]/g, '');
  const isOfDay =
    columnWords(name).words.some((word) => /^(?:m?s?sod|tod)$/.test(word)) ||
    /(?:s|secs?|seconds?|msecs?|millis|milliseconds)(?:of|in)(?:the)?day/.test(whole);
  if (!isOfDay || !(isNumeric || beginsAgain(values)) || !between(values, [0, LONGEST_DAY_S * 1e3]))
    return null;
  const isMs = /ms|milli/.test(whole) || !between(values, [0, LONGEST_DAY_S]);
  return isMs ? 'elapsed-milliseconds' : 'elapsed-seconds';
}

/** Times of day by AM and PM or by the name of their column: `utc`, `tod`; all of them under 24 h. */
function isClockOfDay(words: readonly string[], cells: readonly string[]): boolean {
  const isNamed = words.some((word) => /^(?:utc|tod|gmt|day)$/.test(word));
  if (cells.every(hasHalfDay)) return true;
  return isNamed && cells.every((cell) => /^(?:[01]?\d|2[0-3]):/.test(cell) && !writesDays(cell));
}

/** True for numbers that rise but for one fall. */
function beginsAgain(values: readonly number[]): boolean {
  const falls = values.filter((value, at) => value < (values[at - 1] ?? value)).length;
  return values.length > 2 && falls === 1;
}

/** This share of a column may be no stamps: totals under the rows, a header that comes again. */
const MOST_STRAY = 0.05;

function candidate(name: string, all: readonly string[], unit: string): Candidate | null {
  const filled = all.map((cell) => cell.trim()).filter((cell) => cell !== '');
  const cells = filled.filter((cell) => /^[+-]?[.,]?\d/.test(cell));
  if (filled.length - cells.length > MOST_STRAY * filled.length) return null;
  if (cells.length < 2 || cells.length < 0.9 * all.length) return null;
  const words = scaleWords(name);
  const isNamed = words.some((word) => NAMES_TIME.test(word) || NAMES_DAYS.test(word));
  const written = textCode(cells);
  const numbers = numbersOf(cells);
  const isNumeric = numbers.length === cells.length && ascends(numbers);
  const isDays = isNumeric && areDays(numbers[0] ?? 0, numbers.at(-1) ?? 0, numbers.length);
  const days = isDays && isNamed && written === null ? proposeDays(words, cells[0] ?? '') : null;
  const clock = dayClock(name, numbers, isNumeric);
  const isOfDay = clock !== null || (written === 'elapsed-dhms' && isClockOfDay(words, cells));
  const code =
    written ?? days?.code ?? clock ?? (isNumeric && !isDays ? numericCode(numbers, isNamed) : null);
  if (code === null) return null;
  const isElapsed = isElapsedCode(code);
  const isUnix = code.startsWith('unix');
  const hasZ = cells.every((cell) => SAYS_UTC.test(cell));
  const named = scaleOf([...words, unit.toLowerCase()]);
  const scale = named ?? (hasZ || isUnix || isElapsed ? 'UTC' : null);
  const dateOrder = orderOf(cells);
  const order = dateOrder === null ? '' : ORDER_SAID[dateOrder];
  const said = scale === null ? '; nothing says on which scale' : '';
  const ofDay = isOfDay ? 'times of the day, by its name; they count from a midnight' : null;
  const codeSaid = clock === null ? (ofDay ?? CODE_SAID[code]) : CLOCK_SAID[clock];
  return {
    columns: [name],
    code,
    scale,
    since: isOfDay ? 'midnight' : null,
    dateOrder,
    reason: `"${name}" holds ${cells[0]}; ${cells[1]}; …: ${days?.reason ?? codeSaid}${order}${said}`,
    rank: RANKS.indexOf(code) - (isNamed ? 0.5 : 0),
  };
}

/** A column of weeks beside one of seconds of the week. */
function gpsWeek({ columns, cells }: CellColumns): TimeProposal | null {
  const find = (fits: (words: readonly string[]) => boolean): number =>
    columns.findIndex((name) => fits(columnWords(name).words));
  const week = find((words) => words.includes('week') && !words.includes('of'));
  const seconds = find(
    (words) => words.some((word) => ['tow', 'sow'].includes(word)) || words.includes('of'),
  );
  const weekName = columns[week];
  const secondsName = columns[seconds];
  if (weekName === undefined || secondsName === undefined) return null;
  const weeks = numbersOf(cells[week] ?? []);
  if (weeks.length === 0 || !between(weeks, [0, 10_000])) return null;
  return {
    columns: [weekName, secondsName],
    code: 'gps-week-seconds',
    scale: 'GPS',
    since: null,
    dateOrder: null,
    reason: `"${weekName}" counts weeks and "${secondsName}" the seconds in them`,
  };
}

/**
 * Proposes the column of the stamps.
 *
 * @param table columns with some of their cells, in the order of the file
 * @returns columns, code, scale and why; null where no column reads as a time
 *
 * Source: the sizes of the numbers, POSIX (IEEE Std 1003.1) for counts from 1970 and the IAU's
 * Julian date; the names are common practice, no source.
 */
export function proposeTime(table: CellColumns): TimeProposal | null {
  const weeks = gpsWeek(table);
  if (weeks !== null) return weeks;
  const found = table.columns.flatMap(
    (name, index) => candidate(name, table.cells[index] ?? [], table.units?.[index] ?? '') ?? [],
  );
  const [best] = found.sort((a, b) => a.rank - b.rank);
  const isDated = best?.code === 'iso8601' || best?.code === 'ccsds-b';
  const split = isDated ? null : dateAndTime(table);
  if (split !== null || best === undefined) return split;
  const { rank: _rank, ...proposal } = best;
  return proposal;
}
