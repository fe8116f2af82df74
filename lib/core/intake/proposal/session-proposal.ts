/** A whole session proposed from the files alone: what each is, how it is read, where time begins. */
import { isCaptionFile } from '../../session/read-source';
import { formatInstant } from '../../time/format';
import { NS_PER_S } from '../../time/instant';
import { isElapsedCode } from '../../time/time-code';
import { dayReadingWords, isDayReading } from './day-numbers';
import type { FileSketch } from './file-sketch';
import { type DescribedTime, firstInstant, readingBeside } from './first-instant';
import { proposeLineTime } from './line-time';
import { type DescribedStamping, NOTHING_SAID, proposeMeaning } from './stamp-meaning';
import { type ColumnProposal, proposeTable, type TableProposal } from './table-proposal';
import { proposeTime, type TimeProposal } from './time-proposal';

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

/** The whole UTC second in which the first file with dates begins. */
function proposeZero(sketches: readonly FileSketch[], files: readonly DescribedFile[]): string {
  const starts = files.flatMap((file) => {
    const sketch = sketches.find((each) => each.file === file.file);
    return sketch === undefined ? [] : (firstInstant(sketch.table, file.time) ?? []);
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

type Looked = Readonly<{ sketch: FileSketch; proposed: Proposed }>;

/** Numbers that count days are taken as the count that lies beside the dates of the other files. */
function withReading({ sketch, proposed }: Looked, others: readonly Looked[]): Proposed {
  const { file, reasons } = proposed;
  const beside = others.filter((other) => !isDayReading(other.proposed.file.time?.code));
  const instants = beside.flatMap(
    (other) => firstInstant(other.sketch.table, other.proposed.file.time) ?? [],
  );
  const code = readingBeside(sketch.table, file.time, instants);
  if (code === null || file.time === null) return proposed;
  const time = `${reasons.time ?? ''}; taken for ${dayReadingWords(code)}, which lies beside the dates of the other files`;
  return { file: { ...file, time: { ...file.time, code } }, reasons: { ...reasons, time } };
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
  const proposed = each.map((one) => {
    const others = each.filter((other) => other !== one);
    return withClock(withReading(one, others), one.sketch, plain);
  });
  const dated = proposed.map(({ file }) => file);
  const first = proposeZero(sketches, dated);
  const files = dated.map((file) => withMidnight(file, first));
  // Seconds of the day may begin before any date.
  const zero = proposeZero(sketches, files);
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
