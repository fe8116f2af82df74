/** A whole session proposed from the files alone: what each is, how it is read, where time begins. */
import { isCaptionFile } from '../../session/read-source';
import { formatInstant } from '../../time/format';
import { type Instant, NS_PER_S } from '../../time/instant';
import { parseStamp } from '../../time/parse';
import { type DateOrder, isElapsedCode, type TimeCode, type TimeScale } from '../../time/time-code';
import type { FileSketch } from './file-sketch';
import { proposeLineTime } from './line-time';
import { type DescribedStamping, NOTHING_SAID, proposeMeaning } from './stamp-meaning';
import { type ColumnProposal, proposeTable, type TableProposal } from './table-proposal';
import { proposeTime, type TimeProposal } from './time-proposal';

/** How the stamps of a file are to be read; null entries are for a person to fill in. */
export type DescribedTime = Readonly<{
  columns: readonly string[];
  code: TimeCode | null;
  scale: TimeScale | null;
  /** UTC instant that an elapsed code counts from; null: session time 0; empty: a person must say it. */
  from: string | null;
  /** Of dates that end in the year; `open` where a person must say it, null where none do. */
  dateOrder: DateOrder | 'open' | null;
}>;

export type DescribedChannel = Readonly<{
  column: string;
  as: string | null;
  unit: string | null;
  sign: 1 | -1;
}>;

export type FileUse = 'telemetry' | 'events' | 'ephemeris' | 'plan' | 'rules' | 'nothing';

export type DescribedFile = Readonly<{
  file: string;
  use: FileUse;
  /** null where the format knows its own times. */
  time: DescribedTime | null;
  /** True for a message that says itself how its times are written; `time` is not asked for then. */
  ownTimes: boolean;
  layout: 'wide' | 'long';
  nameColumn: string | null;
  valueColumn: string | null;
  channels: readonly DescribedChannel[];
  /** How the file's clock is put onto session time. */
  clock: 'own' | 'callouts';
  stamping: DescribedStamping;
}>;

/** What a person is asked to look at, change and accept. */
export type SessionDescription = Readonly<{
  title: string;
  kind: 'flight' | 'simulation';
  /** UTC instant of session time 0; empty where no file holds a date. */
  zero: string;
  files: readonly DescribedFile[];
}>;

/** Why a file and its columns are proposed as they are. */
export type FileReasons = Readonly<{
  file: string;
  said: string;
  time: string | null;
  /** Why its clock is to be found from words; null where it is not. */
  clock: string | null;
  /** Why its stamps are to mean what is proposed; null where nothing is. */
  stamp: string | null;
  columns: readonly ColumnProposal[];
}>;

export type SessionProposal = Readonly<{
  description: SessionDescription;
  reasons: readonly FileReasons[];
}>;

const NOTHING = {
  time: null,
  ownTimes: false,
  layout: 'wide',
  nameColumn: null,
  valueColumn: null,
  channels: [],
  clock: 'own',
  stamping: NOTHING_SAID,
} as const;

/** What is proposed of the times; open where nothing is. */
function describedTime(time: TimeProposal | null): DescribedTime {
  if (time === null) return { columns: [], code: null, scale: null, from: null, dateOrder: null };
  const { columns, code, scale, since, dateOrder } = time;
  return { columns, code, scale, from: since === 'midnight' ? '' : null, dateOrder };
}

/** With fewer the fit has nothing left to show a word misheard. Our own choice. */
const LEAST_SPOKEN_RANGES = 4;

/** What the column's name says of the stamps. */
function stampingOf(time: TimeProposal | null): Readonly<{
  described: Pick<DescribedFile, 'stamping'>;
  reason: string | null;
}> {
  const meaning = proposeMeaning(time?.columns ?? []);
  const stamping = { ...NOTHING_SAID, stamp: meaning?.stamp ?? null };
  return { described: { stamping }, reason: meaning?.reason ?? null };
}

type Proposed = Readonly<{ file: DescribedFile; reasons: FileReasons }>;

function timeReason({ ownTimes }: FileSketch, time: TimeProposal | null): string | null {
  return ownTimes ? 'each segment says how its own are written' : (time?.reason ?? null);
}

function fromTable(sketch: FileSketch, table: TableProposal): Proposed {
  const { file, said } = sketch;
  const { time, layout, nameColumn, valueColumn, channels } = table;
  const meaning = stampingOf(time);
  const placed = channels.some(({ as }) => as !== null);
  return {
    file: {
      file,
      use: placed || time !== null ? 'telemetry' : 'nothing',
      time: describedTime(time),
      ownTimes: sketch.ownTimes,
      layout,
      nameColumn,
      valueColumn,
      channels: channels.map(({ column, as, unit, sign }) => ({ column, as, unit, sign })),
      clock: 'own',
      ...meaning.described,
    },
    reasons: {
      file,
      said,
      time: timeReason(sketch, time),
      clock: null,
      stamp: meaning.reason,
      columns: channels,
    },
  };
}

function proposeFile(sketch: FileSketch): Proposed {
  const { file, said, kind, table } = sketch;
  const reasons = { file, said, time: null, clock: null, stamp: null, columns: [] };
  if (kind === 'table' && table !== null) return fromTable(sketch, proposeTable(table));
  if (kind === 'log') {
    const time = table === null ? proposeLineTime(sketch.lines) : proposeTime(table);
    const needsTime = table !== null || !isCaptionFile(file);
    const described = needsTime ? describedTime(time) : null;
    const meaning = stampingOf(time);
    return {
      file: { ...NOTHING, file, use: 'events', time: described, ...meaning.described },
      reasons: {
        ...reasons,
        time: needsTime ? (time?.reason ?? null) : null,
        stamp: meaning.reason,
      },
    };
  }
  if (kind === 'ephemeris' && table !== null) {
    const proposed = fromTable(sketch, proposeTable(table));
    return { ...proposed, file: { ...proposed.file, use: kind } };
  }
  const use = kind === 'plan' || kind === 'rules' ? kind : 'nothing';
  return { file: { ...NOTHING, file, use }, reasons };
}

/** The first dated stamp of a file; null where its stamps count from somewhere else. */
function firstInstant(sketch: FileSketch, time: DescribedTime | null): Instant | null {
  const { table } = sketch;
  if (table === null || time === null || time.code === null) return null;
  if (isElapsedCode(time.code)) return null;
  const cells = time.columns.map((name) => table.cells[table.columns.indexOf(name)] ?? []);
  const [first = [], second = []] = cells;
  const { columns, code, scale, dateOrder } = time;
  if (dateOrder === 'open') return null;
  const order = dateOrder === null ? {} : { dateOrder };
  const spec = { columns, code, scale: scale ?? 'UTC', ...order } as const;
  for (const [row, cell] of first.entries()) {
    const instant = parseStamp(cell.trim(), { ...spec, from: { taiNs: 0n } }, second[row] ?? '');
    if (instant !== null) return instant;
  }
  return null;
}

/** The whole UTC second in which the first file with dates begins. */
function proposeZero(sketches: readonly FileSketch[], files: readonly DescribedFile[]): string {
  const starts = files.flatMap((file) => {
    const sketch = sketches.find((each) => each.file === file.file);
    return sketch === undefined ? [] : (firstInstant(sketch, file.time) ?? []);
  });
  const [first, ...others] = starts;
  if (first === undefined) return '';
  const least = others.reduce((a, b) => (b.taiNs < a.taiNs ? b : a), first);
  const second = BigInt(NS_PER_S);
  const whole = { taiNs: (least.taiNs / second) * second };
  return formatInstant(whole, 'UTC', { decimals: 0 });
}

/** Times of a day count from the midnight before zero, where that is known. */
function withMidnight(file: DescribedFile, zero: string): DescribedFile {
  const { time } = file;
  if (time?.from !== '' || zero === '') return file;
  return { ...file, time: { ...time, from: `${zero.slice(0, 10)}T00:00:00Z` } };
}

/** The quantities that give the distance, where no column is a range. */
export const POSITION_AXES = ['position.x', 'position.y', 'position.z'] as const;

/** True for telemetry that tells how far it is, by a range or by a position in three components. */
export function hasRange({ use, channels }: DescribedFile): boolean {
  const isThere = (as: string): boolean => channels.some((channel) => channel.as === as);
  return use === 'telemetry' && (isThere('range') || POSITION_AXES.every(isThere));
}

/** True for times that count from a moment which the file does not name. */
function countsFromUnsaid({ time }: DescribedFile): boolean {
  return time === null || time.code === null || isElapsedCode(time.code);
}

/** A log that speaks ranges enough and says no date is put onto session time by them. */
function withClock(
  { file, reasons }: Proposed,
  { spokenRanges }: FileSketch,
  all: readonly Proposed[],
): Proposed {
  const isSpoken = file.use === 'events' && spokenRanges >= LEAST_SPOKEN_RANGES;
  const measured = all.find((each) => hasRange(each.file))?.file.file;
  if (!isSpoken || !countsFromUnsaid(file) || measured === undefined) return { file, reasons };
  const clock = `its times count from a moment that it does not name, and ${spokenRanges} ranges are spoken in what was looked at: they can be held against the range of ${measured}`;
  return { file: { ...file, clock: 'callouts' }, reasons: { ...reasons, clock } };
}

/**
 * Proposes a session from files that came without a session.yaml.
 *
 * @param sketches what a look at each file showed
 * @returns a description to be changed and accepted by a person, and the reason for each part; what
 *   names and values do not say is null there, never guessed
 */
export function proposeSession(sketches: readonly FileSketch[]): SessionProposal {
  const each = sketches.map((sketch) => ({ sketch, proposed: proposeFile(sketch) }));
  const plain = each.map(({ proposed }) => proposed);
  const proposed = each.map((one) => withClock(one.proposed, one.sketch, plain));
  const zero = proposeZero(
    sketches,
    proposed.map(({ file }) => file),
  );
  const files = proposed.map(({ file }) => withMidnight(file, zero));
  const onlyOnce = (use: FileUse): readonly DescribedFile[] =>
    files.filter((file) => file.use === use).slice(1);
  const surplus = [...onlyOnce('plan'), ...onlyOnce('rules')];
  return {
    description: {
      title: '',
      kind: 'flight',
      zero,
      files: files.map((file) => (surplus.includes(file) ? { ...file, use: 'nothing' } : file)),
    },
    reasons: proposed.map(({ reasons }) => reasons),
  };
}
