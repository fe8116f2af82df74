/** CCSDS navigation messages in keyword = value notation. */
import type { Issue } from '../../result';
import { splitLines } from '../split-lines';
import {
  attitudeComponents,
  CCSDS_KINDS,
  type CcsdsKind,
  isMetadataKeyword,
  STATE_COMPONENTS,
} from './ccsds-keywords';
import {
  type CcsdsEntry,
  type CcsdsFound,
  type CcsdsRow,
  type CcsdsSegment,
  metadataValue,
} from './ccsds-segment';

type Line = Readonly<{ text: string; line: number }>;
type Fault = Omit<Issue, 'severity' | 'file'>;
type Open = { -readonly [K in keyof CcsdsSegment]: CcsdsSegment[K] } & {
  metadata: CcsdsEntry[];
  rows: CcsdsRow[];
  comments: string[];
};
type Place = 'header' | 'metadata' | 'data' | 'covariance' | 'between';

/** What is gathered on the way down a message. */
type Walk = {
  readonly kind: CcsdsKind;
  readonly header: CcsdsEntry[];
  readonly comments: string[];
  readonly segments: Open[];
  readonly issues: Issue[];
  place: Place;
};

function report(walk: Walk, fault: Fault): void {
  walk.issues.push({ severity: 'error', ...fault });
}

function readEntry({ text, line }: Line): CcsdsEntry | null {
  const match = /^([A-Z][A-Z0-9_]*)\s*=\s*(.*)$/.exec(text);
  return match === null ? null : { keyword: match[1] ?? '', value: (match[2] ?? '').trim(), line };
}

function readMetadata(walk: Walk, line: Line): void {
  const entry = readEntry(line);
  const segment = walk.segments.at(-1);
  if (entry === null || segment === undefined) {
    report(walk, {
      code: 'line-not-readable',
      line: line.line,
      message: `"${line.text.slice(0, 60)}" is no KEYWORD = value`,
      expected: 'KEYWORD = value',
    });
  } else if (!isMetadataKeyword(walk.kind, entry.keyword)) {
    report(walk, {
      code: 'keyword-unknown',
      line: line.line,
      message: `"${entry.keyword}" is no keyword of the metadata of a ${walk.kind}`,
      received: entry.keyword,
    });
  } else segment.metadata.push(entry);
}

/** `KEYWORD = stamp number` of tracking data. */
function readObservation(walk: Walk, line: Line): void {
  const match = /^([A-Z][A-Z0-9_]*)\s*=\s*(\S+)\s+(\S+)\s*$/.exec(line.text);
  if (match === null) {
    report(walk, {
      code: 'line-not-readable',
      line: line.line,
      message: `"${line.text.slice(0, 80)}" is no KEYWORD = stamp number`,
      expected: 'KEYWORD = stamp number',
      received: line.text.slice(0, 80),
    });
    return;
  }
  const [, keyword = '', stamp = '', number = ''] = match;
  walk.segments.at(-1)?.rows.push({ line: line.line, stamp, cells: [[keyword, number]] });
}

/** Names of the numbers in a line of states; null where the segment does not tell. */
function componentsOf(walk: Walk, count: number): readonly string[] | null {
  if (walk.kind === 'OEM') {
    return count === 6 || count === 9
      ? STATE_COMPONENTS.slice(0, count).map(([keyword]) => keyword)
      : null;
  }
  const segment = walk.segments.at(-1);
  if (segment === undefined) return null;
  const type = metadataValue(segment, 'ATTITUDE_TYPE');
  const names =
    type === null ? null : attitudeComponents(type, metadataValue(segment, 'QUATERNION_TYPE'));
  return names?.length === count ? names : null;
}

/** `stamp number number ...` of an ephemeris. */
function readState(walk: Walk, line: Line): void {
  const [stamp = '', ...numbers] = line.text.split(/\s+/);
  const names = componentsOf(walk, numbers.length);
  // A segment without its attitude type is told once, by the check of the metadata.
  const segment = walk.segments.at(-1);
  const isUntold =
    walk.kind === 'AEM' &&
    segment !== undefined &&
    metadataValue(segment, 'ATTITUDE_TYPE') === null;
  if (names === null) {
    if (isUntold) return;
    report(walk, {
      code: 'line-not-readable',
      line: line.line,
      message: `"${line.text.slice(0, 80)}" has ${numbers.length} numbers after its stamp`,
      expected: walk.kind === 'OEM' ? '6 or 9 numbers' : 'the numbers of the ATTITUDE_TYPE',
    });
    return;
  }
  segment?.rows.push({
    line: line.line,
    stamp,
    cells: names.map((name, at) => [name, numbers[at] ?? ''] as const),
  });
}

function readCovariance(walk: Walk, line: Line): void {
  const segment = walk.segments.at(-1);
  if (segment === undefined) return;
  const entry = readEntry(line);
  if (entry?.keyword === 'EPOCH') segment.covarianceCount += 1;
  else if (
    entry === null &&
    line.text.split(/\s+/).some((each) => !Number.isFinite(Number(each)))
  ) {
    report(walk, {
      code: 'not-a-number',
      line: line.line,
      message: `"${line.text.slice(0, 80)}" is no row of a covariance matrix`,
    });
  }
}

/** Marks that open and close the parts of a segment, and where reading goes on after each. */
const MARKS: ReadonlyMap<string, Place> = new Map<string, Place>(
  Object.entries({
    META_START: 'metadata',
    META_STOP: 'data',
    DATA_START: 'data',
    DATA_STOP: 'between',
    COVARIANCE_START: 'covariance',
    COVARIANCE_STOP: 'data',
  } satisfies Record<string, Place>),
);

function readLine(walk: Walk, line: Line): void {
  const mark = MARKS.get(line.text);
  if (mark !== undefined) {
    walk.place = mark;
    if (line.text === 'META_START') {
      walk.segments.push({
        line: line.line,
        metadata: [],
        rows: [],
        comments: [],
        covarianceCount: 0,
      });
    }
  } else if (/^COMMENT(\s|$)/.test(line.text)) {
    (walk.segments.at(-1) ?? walk).comments.push(line.text.slice(7).trim());
  } else if (walk.place === 'header') {
    const entry = readEntry(line);
    if (entry !== null) walk.header.push(entry);
    else
      report(walk, {
        code: 'line-not-readable',
        line: line.line,
        message: `"${line.text.slice(0, 60)}" is no KEYWORD = value of the header`,
      });
  } else if (walk.place === 'metadata') readMetadata(walk, line);
  else if (walk.place === 'covariance') readCovariance(walk, line);
  else if (walk.place === 'between') {
    report(walk, {
      code: 'line-not-readable',
      line: line.line,
      message: `"${line.text.slice(0, 60)}" stands outside of metadata and data`,
    });
  } else if (walk.kind === 'TDM') readObservation(walk, line);
  else readState(walk, line);
}

const END_OF: ReadonlyMap<Place, string> = new Map<Place, string>([
  ['metadata', 'META_STOP'],
  ['covariance', 'COVARIANCE_STOP'],
]);

/**
 * Reads a message in keyword = value notation.
 *
 * @returns the message with everything as written, and an error for each line that is none
 */
export function readCcsdsKvn(text: string): CcsdsFound {
  const lines = splitLines(text)
    .map((each, index) => ({ text: each.trim(), line: index + 1 }))
    .filter((line) => line.text !== '');
  const firstAt = lines.findIndex((line) => !line.text.startsWith('COMMENT'));
  const first = lines[firstAt];
  const match = /^CCSDS_([A-Z]{3})_VERS\s*=\s*(\S+)$/.exec(first?.text ?? '');
  const kind = CCSDS_KINDS.find((each) => each === match?.[1]);
  if (kind === undefined || match === null) {
    const message = `starts with "${(first?.text ?? '').slice(0, 60)}"; of the CCSDS messages TDM, OEM and AEM are read`;
    return {
      message: null,
      issues: [
        {
          code: 'message-unknown',
          severity: 'error',
          line: first?.line ?? 1,
          message,
          expected: 'CCSDS_TDM_VERS, CCSDS_OEM_VERS or CCSDS_AEM_VERS',
        },
      ],
    };
  }
  const walk: Walk = { kind, header: [], comments: [], segments: [], issues: [], place: 'header' };
  lines.forEach((line, index) => {
    if (index !== firstAt) readLine(walk, line);
  });
  const open =
    END_OF.get(walk.place) ?? (kind === 'TDM' && walk.place === 'data' ? 'DATA_STOP' : null);
  if (open !== null && walk.segments.length > 0) {
    report(walk, {
      code: 'message-cut-off',
      line: lines.at(-1)?.line ?? 1,
      message: `the message ends without ${open}; it may be cut off`,
      expected: open,
    });
  }
  const { header, comments, segments, issues } = walk;
  return { message: { kind, version: match[2] ?? '', header, comments, segments }, issues };
}
