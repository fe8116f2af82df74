/** The order in which the files of one source follow each other, from the stamps at their ends. */
import { open } from 'node:fs/promises';
import { cellsOf } from '@/lib/core/intake/fixed-columns';
import { splitCells } from '@/lib/core/intake/split-lines';
import {
  datesUnusedWords,
  filesOrderOpenWords,
  filesOrderWords,
} from '@/lib/core/intake/stamp-words';
import type { Issue } from '@/lib/core/result';
import { orderGivenBy } from '@/lib/core/session/file-pattern';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import { DAY_S } from '@/lib/core/time/calendar';
import { LONGEST_MIDNIGHT_S } from '@/lib/core/time/carry-counter';
import { type KnownTurn, LONGEST_PAUSE_S, writesDays } from '@/lib/core/time/carry-days';
import { type ClockOrder, type ClockStretch, orderOverMidnight } from '@/lib/core/time/clock-order';
import { dayInName } from '@/lib/core/time/date-in-name';
import { type Instant, secondsBetween } from '@/lib/core/time/instant';
import { makeStampReader } from '@/lib/core/time/stamp-reader';
import { isCounterCode, isElapsedCode } from '@/lib/core/time/time-code';
import { plainDialect } from './plain-copy';
import type { SourceHead } from './source-head';
import type { TextSource } from './unpack-source';

/** One file of a source, opened. */
export type Part = Readonly<{ name: string; source: TextSource; head: SourceHead }>;

/** Files in order; `runs` says whether their rows go from the earliest to the latest. */
export type OrderedParts = Readonly<{
  parts: readonly Part[];
  runs: 'forwards' | 'backwards';
  /** Stamps are times of day, so that a step back of most of a day is midnight. */
  counts: 'instants' | 'times of day';
  /** Between which stamps of two files days pass, where their order tells it; s after 00:00:00. */
  turns: readonly KnownTurn[];
  issues: readonly Issue[];
}>;

const TAIL_BYTES = 64 * 1024;
/** So many rows at the start of a file show which way it runs. */
const ROWS_LOOKED_AT = 200;

function stampTextOf(row: string, part: Part): readonly [string, string] {
  const { separator, columns } = plainDialect(part.head.dialect);
  const cells = splitCells(row, separator) ?? [];
  const [first = '', second = ''] = part.head.spec.time.columns.map(
    (name) => cells[columns.indexOf(name)] ?? '',
  );
  return [first, second];
}

/** Stamp of a row of the plain text, s from zero; NaN where it cannot be read. */
export function stampOf(row: string, part: Part, zero: Instant): number {
  const [first, second] = stampTextOf(row, part);
  const { time } = part.head.spec;
  const comma = isCounterCode(time.code) && part.head.dialect.decimal === ',';
  return makeStampReader(time, zero)(comma ? first.replace(',', '.') : first, second);
}

/** Rows at the start of a file as they stand in its plain text. */
function headRows(part: Part): readonly string[] {
  const { dialect, encoding } = part.head;
  const text = new TextDecoder(encoding).decode(part.source.scan.head);
  const lines = text.split(/\r\n|\n|\r/).slice(dialect.rowsAfterLine);
  return plainRows(lines, part);
}

function plainRows(lines: readonly string[], { head }: Part): readonly string[] {
  const { separator } = plainDialect(head.dialect);
  if (separator === head.dialect.separator) return lines;
  return lines.map((line) => (cellsOf(line, head.dialect) ?? []).join(separator));
}

/** The last whole rows of a file. */
async function tailRows(part: Part): Promise<readonly string[]> {
  const handle = await open(part.source.file, 'r');
  try {
    const { size } = await handle.stat();
    // Even, so that no unit of UTF-16 is cut.
    const start = Math.max(0, size - TAIL_BYTES);
    const from = start - (start % 2);
    const buffer = Buffer.alloc(size - from);
    const { bytesRead } = await handle.read(buffer, 0, buffer.length, from);
    const text = new TextDecoder(part.head.encoding).decode(buffer.subarray(0, bytesRead));
    const lines = text.split(/\r\n|\n|\r/);
    return plainRows(lines.slice(from === 0 ? part.head.dialect.rowsAfterLine : 1), part);
  } finally {
    await handle.close();
  }
}

/** The first and the last stamp that read in the first bytes. */
function stampsOfHead(part: Part, zero: Instant): Readonly<{ firstS: number; lastS: number }> {
  const lines = headRows(part);
  const read = (line: string): number => stampOf(line, part, zero);
  const first = lines.find((line) => Number.isFinite(read(line)));
  const last = lines.findLast((line) => Number.isFinite(read(line)));
  // Nothing of it reads as a time: it goes last, and its rows are refused one by one.
  const stampS = (line: string | undefined): number =>
    line === undefined ? Number.POSITIVE_INFINITY : read(line);
  return { firstS: stampS(first), lastS: stampS(last) };
}

/** By their first stamps, the latest first where they run backwards. */
function orderByStamps(parts: readonly Part[], zero: Instant): OrderedParts {
  const stamped = parts.map((part) => ({ part, ...stampsOfHead(part, zero) }));
  const turned = stamped.filter(({ firstS, lastS }) => lastS < firstS).length;
  const isBackwards = 2 * turned > parts.length;
  const sorted = [...stamped].sort(({ firstS: a }, { firstS: b }) => {
    if (a === b) return 0;
    const rises = a < b ? -1 : 1;
    return isBackwards && Number.isFinite(a) && Number.isFinite(b) ? -rises : rises;
  });
  return {
    parts: sorted.map(({ part }) => part),
    runs: isBackwards ? 'backwards' : 'forwards',
    counts: 'instants',
    turns: [],
    issues: [],
  };
}

type DayPart = Readonly<{ part: Part; firstS: number; lastS: number; isTurned: boolean }>;

/** The ends of a file of times of day, s after 00:00:00; null where its stamps are none such. */
async function dayPart(part: Part, zero: Instant): Promise<DayPart | null> {
  const { from } = part.head.spec.time;
  const fromS = secondsBetween(zero, from);
  const read = (row: string): number => stampOf(row, part, zero) - fromS;
  const rows = headRows(part).slice(0, ROWS_LOOKED_AT);
  if (rows.some((row) => writesDays(stampTextOf(row, part)[0]))) return null;
  const stamps = rows.map(read).filter(Number.isFinite);
  const lastS = (await tailRows(part)).map(read).findLast(Number.isFinite);
  const [firstS] = stamps;
  if (firstS === undefined || lastS === undefined) return null;
  if ([...stamps, lastS].some((stampS) => stampS < 0 || stampS >= DAY_S)) return null;
  const steps = stamps.slice(1).map((stampS, at) => stampS - (stamps[at] ?? 0));
  const falls = steps.filter((step) => (step < 0 && step > -DAY_S / 2) || step > DAY_S / 2).length;
  return { part, firstS, lastS, isTurned: 2 * falls > steps.length };
}

/** Null where the stamps are no times of day. */
async function orderByClock(
  parts: readonly Part[],
  spec: TelemetrySpec,
  zero: Instant,
): Promise<OrderedParts | null> {
  const days: DayPart[] = [];
  for (const part of parts) {
    const day = await dayPart(part, zero);
    if (day === null) return null;
    days.push(day);
  }
  const isBackwards = 2 * days.filter(({ isTurned }) => isTurned).length > days.length;
  // Rows that run backwards go on over midnight as the mirrored clock does.
  const along = isBackwards ? [...days].reverse() : days;
  const stretches = along.map(({ firstS, lastS }) =>
    isBackwards ? { firstS: DAY_S - firstS, lastS: DAY_S - lastS } : { firstS, lastS },
  );
  const given = orderGivenBy(spec);
  const found = orderOverMidnight(stretches, given, isBackwards ? null : datesOf(along));
  const common = { runs: isBackwards ? 'backwards' : 'forwards', counts: 'times of day' } as const;
  if (isCounterCode(spec.time.code) && !isPlainNight(found, stretches)) return null;
  if (found === null || (isBackwards && hasLongNight(found, stretches))) {
    const named = days.map(({ part, ...ends }) => ({ name: part.name, ...ends }));
    const issue = { file: spec.file, ...filesOrderOpenWords(named, given) };
    return { parts, ...common, turns: [], issues: [issue] };
  }
  const ordered = found.order.flatMap((index) => along[index]?.part ?? []);
  const names = ordered.map(({ name }) => name);
  const how = found.from === 'given' ? given : found.from;
  const turns = isBackwards ? [] : turnsOf(found, stretches);
  const nights = found.nights.map((night) => ({
    ...night,
    pauseS: nightS(found, stretches, night),
  }));
  const note = { file: spec.file, ...filesOrderWords(names, nights, how) };
  const unused = isBackwards
    ? []
    : unusedDates(found, along).map((words) => ({ file: spec.file, ...words }));
  return {
    parts: ordered,
    ...common,
    turns,
    issues: [...(nights.length > 0 ? [note] : []), ...unused],
  };
}

type Night = ClockOrder['nights'][number];

/** Days in the names of all files; null where one has none. */
function datesOf(files: readonly DayPart[]): readonly number[] | null {
  const dates = files.map(({ part }) => dayInName(part.name));
  return dates.every((day) => day !== null) ? dates : null;
}

/** What is said where names are of more days than the clock passes. */
function unusedDates(found: ClockOrder, files: readonly DayPart[]) {
  const dates = datesOf(files) ?? [];
  const passed = found.nights.reduce((sum, { days }) => sum + days, 0);
  const inside = files.filter(({ firstS, lastS }) => lastS < firstS).length;
  const isUsed =
    found.from === 'dates' || Math.max(...dates) - Math.min(...dates) <= passed + inside;
  return dates.length === 0 || isUsed ? [] : [datesUnusedWords()];
}

/** The times of day on the two sides of a night between files. */
function endsOf({ order }: ClockOrder, files: readonly ClockStretch[], at: number) {
  return {
    beforeS: files[order[at - 1] ?? -1]?.lastS ?? Number.NaN,
    afterS: files[order[at] ?? -1]?.firstS ?? Number.NaN,
  };
}

/** Length of a pause over one midnight or more, s. */
function nightS(found: ClockOrder, files: readonly ClockStretch[], { at, days }: Night): number {
  const { beforeS, afterS } = endsOf(found, files, at);
  return days * DAY_S + afterS - beforeS;
}

function hasLongNight(found: ClockOrder, files: readonly ClockStretch[]): boolean {
  return found.nights.some((night) => nightS(found, files, night) > LONGEST_PAUSE_S);
}

function turnsOf(found: ClockOrder, files: readonly ClockStretch[]): readonly KnownTurn[] {
  return found.nights.map(({ at, days }) => ({ ...endsOf(found, files, at), days }));
}

/** Numbers are seconds of the day where the files go on over midnight at once, or their names are dated. */
function isPlainNight(found: ClockOrder | null, files: readonly ClockStretch[]): boolean {
  if (found === null || found.nights.length === 0 || found.from === 'clock') return false;
  return (
    found.from === 'dates' ||
    found.nights.every((night) => nightS(found, files, night) <= LONGEST_MIDNIGHT_S)
  );
}

/**
 * Puts the files of a source one after the other: by their first stamps, the latest first where
 * their rows run backwards. Times of day without a date go on over midnight: as the files are
 * stated or named where that fits, else round the clock.
 *
 * @returns the files, and what there is to say: an issue of severity `error` where the order of
 *   files with times of day cannot be told
 */
export async function orderParts(
  parts: readonly Part[],
  spec: TelemetrySpec,
  zero: Instant,
): Promise<OrderedParts> {
  const byClock = isElapsedCode(spec.time.code) ? await orderByClock(parts, spec, zero) : null;
  return byClock ?? orderByStamps(parts, zero);
}
