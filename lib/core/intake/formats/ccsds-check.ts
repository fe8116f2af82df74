/** What must hold in every segment of a CCSDS message, whichever way it is written. */
import type { Issue } from '../../result';
import { parseInstant } from '../../time/parse';
import { TIME_SCALES, type TimeScale } from '../../time/time-code';
import { attitudeComponents, observationUnit } from './ccsds-keywords';
import {
  type CcsdsMessage,
  type CcsdsRow,
  type CcsdsSegment,
  metadataValue,
} from './ccsds-segment';

type Found = Omit<Issue, 'file'>;

function fault(code: string, line: number, message: string, expected?: string): Found {
  return {
    code,
    severity: 'error',
    line,
    message,
    ...(expected === undefined ? {} : { expected }),
  };
}

/** The time system of a segment; null where it is missing or is none that can be converted. */
export function timeSystemOf(segment: CcsdsSegment): TimeScale | null {
  const name = metadataValue(segment, 'TIME_SYSTEM');
  return TIME_SCALES.find((scale) => scale === name) ?? null;
}

function checkTimeSystem(segment: CcsdsSegment): Found[] {
  if (timeSystemOf(segment) !== null) return [];
  const entry = segment.metadata.find(({ keyword }) => keyword === 'TIME_SYSTEM');
  const known = TIME_SCALES.join(', ');
  return entry === undefined
    ? [fault('keyword-missing', segment.line, 'the metadata lacks TIME_SYSTEM', known)]
    : [
        fault(
          'time-system-unknown',
          entry.line,
          `the TIME_SYSTEM ${entry.value} cannot be converted; read are ${known}`,
          known,
        ),
      ];
}

/** An attitude segment must say what its numbers are. */
function checkAttitude(segment: CcsdsSegment): Found[] {
  const type = metadataValue(segment, 'ATTITUDE_TYPE');
  if (type === null) {
    return [
      fault(
        'keyword-missing',
        segment.line,
        'the metadata lacks ATTITUDE_TYPE, so its numbers cannot be told',
        'ATTITUDE_TYPE',
      ),
    ];
  }
  return attitudeComponents(type, null) === null
    ? [fault('value-unknown', segment.line, `the ATTITUDE_TYPE ${type} is not known`)]
    : [];
}

function checkRow(row: CcsdsRow, scale: TimeScale): Found[] {
  const found: Found[] = [];
  if (parseInstant(row.stamp, scale) === null) {
    const seen = row.stamp === '' ? 'nothing' : `"${row.stamp}"`;
    found.push(
      fault(
        'stamp-not-readable',
        row.line,
        `must have a calendar or day-of-year stamp, found ${seen}`,
        '2031-04-17T09:12:30 or 2031-107T09:12:30',
      ),
    );
  }
  for (const [keyword, text] of row.cells) {
    if (text !== '' && Number.isFinite(Number(text))) continue;
    found.push(
      fault(
        'not-a-number',
        row.line,
        `${keyword} must be a number, found "${text.slice(0, 40)}"`,
        'a number',
      ),
    );
  }
  return found;
}

/** Observation types that the standard does not have: said once each, and kept. */
function noteUnknownTypes(message: CcsdsMessage): Found[] {
  if (message.kind !== 'TDM') return [];
  const first = new Map<string, number>();
  const counts = new Map<string, number>();
  for (const row of message.segments.flatMap((segment) => segment.rows)) {
    for (const [keyword] of row.cells) {
      if (observationUnit(keyword) !== null) continue;
      if (!first.has(keyword)) first.set(keyword, row.line);
      counts.set(keyword, (counts.get(keyword) ?? 0) + 1);
    }
  }
  return [...first].map(([keyword, line]) => ({
    code: 'observation-unknown',
    severity: 'warning',
    line,
    message: `"${keyword}" is no observation type of the standard; its ${counts.get(keyword)} values are kept under that name, without a unit`,
    received: keyword,
  }));
}

/** What leaves a range without a metre, said once a segment. */
function noteRange(segment: CcsdsSegment): Found[] {
  if (!segment.rows.some((row) => row.cells.some(([keyword]) => keyword === 'RANGE'))) return [];
  const notes: Found[] = [];
  const unit = metadataValue(segment, 'RANGE_UNITS') ?? 'km';
  const at = (keyword: string) =>
    segment.metadata.find((entry) => entry.keyword === keyword)?.line ?? segment.line;
  if (!['km', 's', 'RU'].includes(unit)) {
    notes.push(
      fault(
        'value-unknown',
        at('RANGE_UNITS'),
        `RANGE_UNITS must be km, s or RU, found ${unit}`,
        'km, s or RU',
      ),
    );
  }
  return notes;
}

/** States of an ephemeris rise in time within a segment. */
function noteOrder(message: CcsdsMessage, segment: CcsdsSegment, scale: TimeScale): Found[] {
  if (message.kind === 'TDM') return [];
  let latest: bigint | null = null;
  for (const row of segment.rows) {
    const instant = parseInstant(row.stamp, scale);
    if (instant === null) continue;
    if (latest !== null && instant.taiNs <= latest) {
      const size = Number(latest - instant.taiNs) / 1e9;
      const what = size === 0 ? 'repeats the stamp before it' : `steps back by ${size} s`;
      return [
        {
          code: 'time-not-ascending',
          severity: 'warning',
          line: row.line,
          message: `the stamp ${row.stamp} ${what}`,
        },
      ];
    }
    latest = instant.taiNs;
  }
  return [];
}

/** Everything that is wrong or worth saying about a message that was taken apart. */
export function checkSegments(message: CcsdsMessage): readonly Found[] {
  if (message.segments.length === 0)
    return [fault('message-empty', 1, 'the message has no segment')];
  const found = message.segments.flatMap((segment) => {
    const system = checkTimeSystem(segment);
    const attitude = message.kind === 'AEM' ? checkAttitude(segment) : [];
    const scale = timeSystemOf(segment);
    if (scale === null) return [...system, ...attitude];
    return [
      ...attitude,
      ...noteRange(segment),
      ...noteOrder(message, segment, scale),
      ...segment.rows.flatMap((row) => checkRow(row, scale)),
    ];
  });
  return [...found, ...noteUnknownTypes(message)];
}
