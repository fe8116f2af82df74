/** The form in which a person says what files are: proposals, choices and rows to look at. */
import type { FileSketch } from '../core/intake/proposal/file-sketch';
import type {
  FileReasons,
  FileUse,
  SessionDescription,
  SessionProposal,
} from '../core/intake/proposal/session-proposal';
import type { DescribedStamping } from '../core/intake/proposal/stamp-meaning';
import { isCaptionFile } from '../core/session/read-source';
import {
  type Availability,
  latencySeconds,
  STAMP_MEANINGS,
  type StampMeaning,
} from '../core/session/stamping';
import { isDateCode } from '../core/time/parse';
import {
  type DateOrder,
  isElapsedCode,
  TIME_CODES,
  TIME_SCALES,
  type TimeCode,
  type TimeScale,
} from '../core/time/time-code';
import { CHANNEL_QUANTITIES } from '../core/units/quantity';
import { spellingsOf } from '../core/units/unit';
import { stampText } from './format-date';
import { formatBytes, plural } from './format-number';
import { stampingText } from './stamping-text';

export type Choice<Value extends string = string> = Readonly<{ value: Value; label: string }>;

/** What is shown of a file beside its description; `rows` are the first, as they stand in it. */
export type FileShown = Readonly<{
  file: string;
  /** What the file seems to be and how large it is. */
  said: string;
  timeReason: string | null;
  clockReason: string | null;
  stampReason: string | null;
  header: readonly string[];
  rows: readonly Readonly<{ line: number | null; cells: readonly string[] }>[];
  lines: readonly string[];
  /** By column, in the order of the description's channels. */
  reasons: readonly string[];
  examples: readonly string[];
  /** Columns whose proposed unit nothing in the file says. */
  unsaidUnits: readonly string[];
}>;

export type DescribeView = Readonly<{
  uploadId: string;
  description: SessionDescription;
  files: readonly FileShown[];
}>;

const ROWS_SHOWN = 5;

const USE_WORDS: Readonly<Record<FileUse, string>> = {
  telemetry: 'telemetry',
  events: 'a log of events or words',
  ephemeris: 'an ephemeris or tracking message',
  plan: 'the plan',
  rules: 'the flight rules',
  nothing: 'leave it out',
};

/** True where a file used so must say how its times are written; captions count from 0 by themselves. */
export function needsTime(file: string, use: FileUse): boolean {
  return use === 'telemetry' || (use === 'events' && !isCaptionFile(file));
}

export const USE_CHOICES: readonly Choice[] = Object.entries(USE_WORDS).map(([value, label]) => ({
  value,
  label,
}));

const CODE_WORDS: Readonly<Record<TimeCode, string>> = {
  iso8601: 'date and time, 2031-03-02T10:00:00.5',
  'ccsds-a': 'date and time, calendar only',
  'ccsds-b': 'year and day of year, 2031-061T10:00:00.5',
  'unix-seconds': 'seconds since 1970',
  'unix-milliseconds': 'milliseconds since 1970',
  'unix-nanoseconds': 'nanoseconds since 1970',
  'gps-week-seconds': 'GPS week and seconds of it (two columns)',
  'unix-microseconds': 'microseconds since 1970',
  'julian-date': 'Julian date',
  'modified-julian-date': 'modified Julian date, days since November 1858',
  'days-since-1900': 'days of a spreadsheet, from 1900',
  'days-since-1904': 'days of a spreadsheet, from 1904',
  'elapsed-milliseconds': 'milliseconds since an instant',
  'elapsed-seconds': 'seconds since an instant',
  'elapsed-dhms': 'd:hh:mm:ss since an instant',
};

export const CODE_CHOICES: readonly Choice<TimeCode>[] = TIME_CODES.map((value) => ({
  value,
  label: CODE_WORDS[value],
}));
export const SCALE_CHOICES: readonly Choice<TimeScale>[] = TIME_SCALES.map((value) => ({
  value,
  label: value,
}));

/** Of dates that end in the year. */
export const ORDER_CHOICES: readonly Choice<DateOrder>[] = [
  { value: 'day-month-year', label: 'the day stands first, 17/04/2031' },
  { value: 'month-day-year', label: 'the month stands first, 04/17/2031' },
];

const NOT_SAID = { value: '', label: 'not said' } as const;

/** What a stamp is the moment of. */
export const STAMP_CHOICES: readonly Choice<StampMeaning | ''>[] = [
  NOT_SAID,
  ...STAMP_MEANINGS.map((value) => ({ value, label: value })),
];
export const AVAILABLE_CHOICES: readonly Choice<Availability | ''>[] = [
  NOT_SAID,
  { value: 'real-time', label: 'in real time' },
  { value: 'afterwards', label: 'afterwards' },
];

/** What is said of stamps so far. */
export function describedStampText({ stamp, latency, available }: DescribedStamping): string {
  const latencyS = latencySeconds(latency);
  return stampingText({ stamp, latencyS: Number.isNaN(latencyS) ? null : latencyS, available });
}

/** True for the codes whose date and time of day may stand in two columns. */
export function mayBeSplit(code: TimeCode | null): boolean {
  return code !== null && isDateCode(code);
}

/** True for the codes that count from an instant which has to be said. */
export function countsFrom(code: TimeCode | null): boolean {
  return code !== null && isElapsedCode(code);
}

export const QUANTITY_CHOICES: readonly string[] = [...CHANNEL_QUANTITIES.keys()];

/** Units that fit a quantity, for a list to choose from; empty for a name of one's own. */
export const UNITS_BY_QUANTITY: Readonly<Record<string, readonly string[]>> = Object.fromEntries(
  [...CHANNEL_QUANTITIES].map(([quantity, siUnit]) => [quantity, spellingsOf(siUnit)]),
);

function shownFile(sketch: FileSketch, reasons: FileReasons | undefined): FileShown {
  const { table } = sketch;
  const rows = table === null ? [] : Array.from({ length: ROWS_SHOWN }, (_, row) => row);
  return {
    file: sketch.file,
    said: `${reasons?.said ?? sketch.said}, ${formatBytes(sketch.bytes)}`,
    timeReason: reasons?.time ?? null,
    clockReason: reasons?.clock ?? null,
    stampReason: reasons?.stamp ?? null,
    header: table?.columns ?? [],
    rows: rows
      .filter((row) => row < (table?.cells[0]?.length ?? 0))
      .map((row) => ({
        line: table?.lines[row] ?? null,
        cells: (table?.cells ?? []).map((cells) => cells[row] ?? ''),
      })),
    lines: sketch.lines,
    reasons: reasons?.columns.map(({ reason }) => reason) ?? [],
    unsaidUnits: (reasons?.columns ?? [])
      .filter(({ as, isUnitSaid }) => as !== null && !isUnitSaid)
      .map(({ column }) => column),
    examples: reasons?.columns.map(({ examples }) => examples.join('; ')) ?? [],
  };
}

/** Everything that the form shows at first. */
export function describeView(
  uploadId: string,
  sketches: readonly FileSketch[],
  { description, reasons }: SessionProposal,
): DescribeView {
  return {
    uploadId,
    description,
    files: sketches.map((sketch, index) => shownFile(sketch, reasons[index])),
  };
}

/** Files that wait to be described, as a line of a list. */
export type OpenDescriptionRow = Readonly<{ href: string; files: string; sent: string }>;

const NAMES_SHOWN = 3;

/** One row an upload, the names of its first files in it. */
export function openDescriptionRows(
  waiting: readonly Readonly<{ uploadId: string; files: readonly string[]; askedAtIso: string }>[],
): readonly OpenDescriptionRow[] {
  return waiting.map(({ uploadId, files, askedAtIso }) => {
    const more = files.length > NAMES_SHOWN ? ` and ${files.length - NAMES_SHOWN} more` : '';
    return {
      href: `/import/describe/${encodeURIComponent(uploadId)}`,
      files: `${files.slice(0, NAMES_SHOWN).join(', ')}${more}`,
      sent: `${plural(files.length, 'file')}, sent ${stampText(askedAtIso)}; kept for a week`,
    };
  });
}
