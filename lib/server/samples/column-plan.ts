/** What becomes of each column of a source: stamp, channel, text. */
import type { Dialect } from '@/lib/core/intake/dialect';
import { shownCell } from '@/lib/core/intake/shown-cell';
import type { Issue } from '@/lib/core/result';
import type { TelemetrySpec } from '@/lib/core/session/session-file';

export type PlannedChannel = Readonly<{
  /** Position in the source, 0-based. */
  index: number;
  /** As written in the header. */
  name: string;
  /** Column in data.parquet: the name, told apart from others that differ in case only. */
  stored: string;
  as: string;
  unit: string;
  sourceUnit: string | null;
  mapped: boolean;
  /** Stored value = number in the file x factor. */
  factor: number;
  /** Numbers in the file that stand for "no sample". */
  missing: readonly number[];
}>;

export type PlannedText = Readonly<{ index: number; name: string; stored: string }>;

export type ColumnPlan = Readonly<{
  columnCount: number;
  /** Positions of the stamp's columns. */
  stamps: readonly number[];
  channels: readonly PlannedChannel[];
  texts: readonly PlannedText[];
}>;

/** Name of the stamp's column in data.parquet. */
export const TIME_COLUMN = 't';

/** Names that DuckDB gives to columns of its own when it reads a Parquet file. */
const DUCKDB_NAMES = ['file_row_number', 'filename', 'file_index'];

function quoted(names: readonly string[]): string {
  const shown = names.slice(0, 12).map((name) => `"${shownCell(name)}"`);
  return names.length > shown.length
    ? `${shown.join(', ')} and ${names.length - shown.length} more`
    : shown.join(', ');
}

/** Columns of one file: each has a place in memory while the rows are written. */
export const MOST_COLUMNS = 2000;

function tooManyColumns(file: string, count: number): Issue {
  return {
    code: 'too-many-columns',
    severity: 'error',
    file,
    message: `the header has ${count} columns; at most ${MOST_COLUMNS} are read, so split the file`,
    expected: `at most ${MOST_COLUMNS} columns`,
    received: `${count} columns`,
  };
}

function missingColumn(file: string, name: string, what: string, header: readonly string[]): Issue {
  const alike = header.find((each) => each.toLowerCase() === name.toLowerCase());
  const question = alike === undefined ? '' : `, is "${alike}" meant?`;
  return {
    code: 'column-missing',
    severity: 'error',
    file,
    message: `${what} "${name}" is not in the header${question}; the file has ${quoted(header)}`,
    expected: name,
    received: header.join(', '),
  };
}

/** Columns that the session file names and the header gives more than once. */
export function ambiguousColumns(
  spec: TelemetrySpec,
  { repeated, columns, headerLine }: Dialect,
): Issue[] {
  const channels = spec.layout === 'wide' ? spec.channels.map((channel) => channel.column) : [];
  const named = [...spec.time.columns, spec.nameColumn, spec.valueColumn, ...channels];
  return repeated
    .filter((name) => named.includes(name))
    .map((name) => {
      const choices = columns.filter((column) => column.startsWith(`${name} (column `));
      return {
        code: 'column-ambiguous',
        severity: 'error',
        file: spec.file,
        line: headerLine,
        message: `"${name}" stands for ${choices.length} columns of the header; name the one that is meant: ${quoted(choices)}`,
        expected: choices.join(' or '),
        received: name,
      } as const;
    });
}

/** Numbers that the session file states for "no sample". */
export function missingNumbers(spec: TelemetrySpec): number[] {
  return spec.missing.filter((each) => typeof each === 'number');
}

/** Words of cells that the session file states for "no sample". */
export function missingWords(spec: TelemetrySpec): string[] {
  return spec.missing.filter((each) => typeof each === 'string');
}

/** Gives each name a form of its own under DuckDB's rule that case does not count. */
export function planStoredNames(): (name: string) => string {
  const taken = new Set([TIME_COLUMN, ...DUCKDB_NAMES]);
  return (name) => {
    const base = name === '' ? 'column' : name;
    let stored = base;
    for (let number = 2; taken.has(stored.toLowerCase()); number += 1) stored = `${base}_${number}`;
    taken.add(stored.toLowerCase());
    return stored;
  };
}

/**
 * Plans the columns of a wide source.
 *
 * @param header the names in the source's order
 * @param texts positions of columns that hold words; they are kept as they are
 */
export function planColumns(
  header: readonly string[],
  spec: TelemetrySpec,
  texts: ReadonlySet<number>,
): Readonly<{ plan: ColumnPlan; issues: readonly Issue[] }> {
  const issues: Issue[] = [];
  if (header.length > MOST_COLUMNS) issues.push(tooManyColumns(spec.file, header.length));
  const find = (name: string, what: string): number => {
    const index = header.indexOf(name);
    if (index < 0) issues.push(missingColumn(spec.file, name, what, header));
    return index;
  };
  const stamps = spec.time.columns.map((name) => find(name, 'the time column'));
  const mapped = new Map(
    spec.channels.map((channel) => [find(channel.column, 'the channel'), channel]),
  );
  const missing = missingNumbers(spec);
  const store = planStoredNames();
  const channels: PlannedChannel[] = [];
  const words: PlannedText[] = [];
  header.forEach((name, index) => {
    const channel = mapped.get(index);
    if (channel === undefined && stamps.includes(index)) return;
    const stored = store(name);
    if (channel === undefined && texts.has(index)) {
      words.push({ index, name, stored });
      return;
    }
    channels.push({
      index,
      name,
      stored,
      as: channel?.as ?? name,
      unit: channel?.siUnit ?? '',
      sourceUnit: channel?.unit ?? null,
      mapped: channel !== undefined,
      factor: channel === undefined ? 1 : channel.sign * channel.scale * channel.toSi,
      missing,
    });
  });
  return { plan: { columnCount: header.length, stamps, channels, texts: words }, issues };
}
