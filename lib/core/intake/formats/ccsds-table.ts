/** A CCSDS message as one table: a row an instant, a column a quantity. */
import type { Issue } from '../../result';
import { NS_PER_S } from '../../time/instant';
import { parseInstant } from '../../time/parse';
import { attitudeAngleCells } from './ccsds-attitude';
import { timeSystemOf } from './ccsds-check';
import { componentUnit } from './ccsds-keywords';
import { unwrapRanges } from './ccsds-modulus';
import {
  type CcsdsMessage,
  type CcsdsRow,
  type CcsdsSegment,
  metadataValue,
} from './ccsds-segment';

export type CcsdsColumn = Readonly<{ name: string; unit: string | null }>;

export type CcsdsTable = Readonly<{
  columns: readonly CcsdsColumn[];
  /** By time; `taiNs` since 1970, `cells` text by column, '' where there is none. */
  rows: readonly Readonly<{ taiNs: bigint; line: number; cells: readonly string[] }>[];
  issues: readonly Issue[];
}>;

/** Keywords by which two segments tell of the same thing: who takes part, over which path, in what. */
const SUBJECT_KEYWORDS = [
  'PARTICIPANT_1 PARTICIPANT_2 PARTICIPANT_3 PATH MODE RANGE_UNITS RANGE_MODULUS',
  'OBJECT_NAME CENTER_NAME REF_FRAME REF_FRAME_A REF_FRAME_B',
].flatMap((names) => names.split(' '));
/** What a keyword left out stands for. CCSDS 503.0-B-2, table 3-3, from memory. */
const DEFAULTS: Readonly<Record<string, string>> = { RANGE_UNITS: 'km', RANGE_MODULUS: '0' };

/** A value as it is compared: `0.0` is 0. */
function comparedValue(segment: CcsdsSegment, keyword: string): string {
  const value = metadataValue(segment, keyword) ?? DEFAULTS[keyword] ?? '';
  return keyword === 'RANGE_MODULUS' ? String(Number(value)) : value;
}

function subjectOf(segment: CcsdsSegment): string {
  return SUBJECT_KEYWORDS.map((name) => comparedValue(segment, name)).join('|');
}

function unitOf(message: CcsdsMessage, segment: CcsdsSegment, keyword: string): string | null {
  if (message.kind === 'TDM' && keyword === 'RANGE') {
    return metadataValue(segment, 'RANGE_UNITS') ?? 'km';
  }
  return componentUnit(message.kind, keyword);
}

/** Segments about the same, with the number of the first of them. */
type Subject = Readonly<{ number: number; segments: CcsdsSegment[] }>;

function subjectsOf(message: CcsdsMessage): readonly Subject[] {
  const subjects = new Map<string, Subject>();
  message.segments.forEach((segment, at) => {
    const subject = subjectOf(segment);
    const known = subjects.get(subject);
    if (known === undefined) subjects.set(subject, { number: at + 1, segments: [segment] });
    else known.segments.push(segment);
  });
  return [...subjects.values()];
}

/** Ranges that count modulo a length, subject by subject. */
function rangesOf(subjects: readonly Subject[], fileName: string) {
  const seconds = (segment: CcsdsSegment, row: CcsdsRow): number => {
    const scale = timeSystemOf(segment);
    const instant = scale === null ? null : parseInstant(row.stamp, scale);
    return instant === null ? Number.NaN : Number(instant.taiNs) / NS_PER_S;
  };
  const all = subjects.map(({ segments }) => unwrapRanges(segments, seconds, fileName));
  return {
    texts: new Map(all.flatMap(({ texts }) => [...texts])),
    issues: all.flatMap(({ issues }) => issues),
  };
}

/** Cells of a row: as written, ranges unwrapped, roll, pitch and yaw of an attitude beside them. */
function cellsOf(
  message: CcsdsMessage,
  segment: CcsdsSegment,
  row: CcsdsRow,
  range: string | undefined,
): CcsdsRow['cells'] {
  if (message.kind === 'AEM') return [...row.cells, ...attitudeAngleCells(segment, row)];
  if (range === undefined) return row.cells;
  return row.cells.map(([keyword, text]) => [keyword, keyword === 'RANGE' ? range : text]);
}

type Columns = Map<string, { index: number; unit: string | null }>;

/** `RANGE`, and `RANGE (segment 3)` where an earlier segment's RANGE is of something else. */
function columnName(keyword: string, subject: number, segmentNumber: number): string {
  return subject === 0 ? keyword : `${keyword} (segment ${segmentNumber})`;
}

/** Keywords of which segments about something else have columns of their own: said, with the reason. */
function apartIssues(subjects: readonly Subject[], columns: Columns, file: string): Issue[] {
  const [first] = subjects;
  const main = first?.segments[0];
  if (main === undefined) return [];
  return subjects.slice(1).flatMap(({ number, segments }): Issue[] => {
    const segment = segments[0] ?? main;
    const names = [...columns.keys()].filter((name) => name.endsWith(` (segment ${number})`));
    const apart = names.filter((name) => columns.has(name.replace(/ \(segment \d+\)$/, '')));
    if (apart.length === 0) return [];
    const differing = SUBJECT_KEYWORDS.filter(
      (name) => comparedValue(segment, name) !== comparedValue(main, name),
    ).map((name) => `${name} ${comparedValue(segment, name) || 'left out'}`);
    return [
      {
        code: 'segment-apart',
        severity: 'warning',
        file,
        line: segment.line,
        message: `segment ${number} differs from the first (${differing.join(', ')}): its values are not among the others but in columns of their own: ${apart.slice(0, 6).join(', ')}`,
      },
    ];
  });
}

/**
 * The message as a table. Segments about the same participants or object share their columns; those
 * of others have columns of their own, named with the number of the first such segment.
 *
 * @param message a message without errors
 * @param fileName for the issues
 * @returns rows by time; a value that stands twice at one instant is kept once and said
 */
export function ccsdsTable(message: CcsdsMessage, fileName: string): CcsdsTable {
  const subjects = subjectsOf(message);
  const places = new Map(
    subjects.flatMap(({ segments }, place) => segments.map((segment) => [segment, place] as const)),
  );
  const ranges = rangesOf(subjects, fileName);
  const columns: Columns = new Map();
  const rows = new Map<bigint, { line: number; cells: Map<number, string> }>();
  const repeated: number[] = [];
  message.segments.forEach((segment) => {
    const scale = timeSystemOf(segment);
    if (scale === null) return;
    const place = places.get(segment) ?? 0;
    for (const dataRow of segment.rows) {
      const { stamp, line } = dataRow;
      const cells = cellsOf(message, segment, dataRow, ranges.texts.get(dataRow));
      const instant = parseInstant(stamp, scale);
      if (instant === null) continue;
      const row = rows.get(instant.taiNs) ?? { line, cells: new Map<number, string>() };
      rows.set(instant.taiNs, row);
      for (const [keyword, text] of cells) {
        const name = columnName(keyword, place, subjects[place]?.number ?? 0);
        const column = columns.get(name) ?? {
          index: columns.size,
          unit: unitOf(message, segment, keyword),
        };
        columns.set(name, column);
        if (row.cells.has(column.index)) repeated.push(line);
        else row.cells.set(column.index, text);
      }
    }
  });
  const names = [...columns].map(([name, { unit }]) => ({ name, unit }));
  const sorted = [...rows].sort(([a], [b]) => (a < b ? -1 : 1));
  return {
    columns: names,
    rows: sorted.map(([taiNs, { line, cells }]) => ({
      taiNs,
      line,
      cells: names.map((_, index) => cells.get(index) ?? ''),
    })),
    issues: [
      ...ranges.issues,
      ...apartIssues(subjects, columns, fileName),
      ...(repeated.length === 0 ? [] : [repeatedIssue(fileName, repeated)]),
    ],
  };
}

function repeatedIssue(file: string, lines: readonly number[]): Issue {
  return {
    code: 'value-repeated',
    severity: 'warning',
    file,
    line: lines[0] ?? 1,
    message: `${lines.length} values stand at an instant that has a value of that kind already; the first is kept`,
  };
}
