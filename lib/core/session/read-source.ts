/** One source of session.yaml: its stamps, clock, channels and what it declares. */
import type { Instant } from '../time/instant';
import type { TimeSpec } from '../time/time-code';
import { readChannels } from './read-channels';
import { checkStateColumns, readDeclaration, readDialect } from './read-declaration';
import { checkPoints } from './read-points';
import { readClock, readTime } from './read-time-spec';
import type { Report } from './schema-issues';
import type { SourceSpec, TelemetrySpec } from './session-file';
import type { SourceData, TelemetryData } from './session-schema';
import { readStamping, statedOf } from './stamping';
import type { KeyPath } from './yaml-text';

function reportMissing(path: KeyPath, why: string, report: Report): void {
  report(path, {
    code: 'key-missing',
    message: `the key "${path.at(-1)}" is missing: ${why}`,
    expected: why,
    received: 'nothing',
  });
}

/** What a telemetry source is called: its file, or the first of several. */
export function sourceName(data: SourceData): string {
  if (data.file !== undefined) return data.file;
  const files = 'files' in data ? (data.files ?? []) : [];
  const [first = ''] = files;
  return files.length > 1 ? `${first} and ${files.length - 1} more` : first;
}

/** True for messages whose segments say themselves how their stamps are written. */
export function isMessageFile(file: string): boolean {
  return /\.(tdm|oem|aem|kvn|xml)(\.gz)?$/i.test(file);
}

function readTelemetryTime(
  data: TelemetryData,
  zero: Instant,
  path: KeyPath,
  report: Report,
): TimeSpec {
  if (data.time === undefined) {
    const files = data.files ?? (data.file === undefined ? [] : [data.file]);
    if (!files.every(isMessageFile)) {
      reportMissing(
        [...path, 'time'],
        'only CCSDS messages (.tdm, .oem, .aem, .kvn, .xml) go without',
        report,
      );
    }
    return { columns: ['time'], code: 'iso8601', scale: 'UTC', from: zero };
  }
  const time = readTime(data.time, zero, [...path, 'time'], report);
  if (time.columns.length === 0) {
    reportMissing([...path, 'time', 'column'], 'the column of the stamp', report);
  }
  return time;
}

function readTelemetry(
  data: TelemetryData,
  zero: Instant,
  path: KeyPath,
  report: Report,
): TelemetrySpec {
  const layout = data.layout ?? 'wide';
  checkStateColumns(data, path, report);
  checkPoints(data, path, report);
  const time = readTelemetryTime(data, zero, path, report);
  for (const key of ['name_column', 'value_column'] as const) {
    if (layout === 'long') {
      if (data[key] === undefined) reportMissing([...path, key], 'layout long needs it', report);
    } else if (data[key] !== undefined) {
      report([...path, key], {
        code: 'key-conflict',
        message: `${key} belongs to layout: long`,
        expected: 'layout: long',
        received: 'layout: wide',
      });
    }
  }
  return {
    type: 'telemetry',
    file: sourceName(data),
    files: data.files ?? (data.file === undefined ? [] : [data.file]),
    layout,
    nameColumn: data.name_column ?? null,
    valueColumn: data.value_column ?? null,
    time,
    clock: readClock(data.clock, [...path, 'clock'], report),
    channels: readChannels(data, [...path, 'channels'], report),
    missing: data.missing ?? [],
    dialect: readDialect(data, path, report),
    declared: readDeclaration(data),
  };
}

/** True for caption files, whose times count from zero by themselves. */
export function isCaptionFile(file: string): boolean {
  return /\.(vtt|srt)(\.gz)?$/i.test(file);
}

/** True for text whose lines start with the stamp: no column to name. */
function isPlainText(file: string): boolean {
  return /\.(txt|log)(\.gz)?$/i.test(file);
}

/**
 * Reads one source.
 *
 * @param zero the session's zero, from which elapsed codes count unless stated otherwise
 * @param path key path of the source
 * @returns the source as the readers need it; faults go to `report`
 */
export function readSource(
  data: SourceData,
  zero: Instant,
  path: KeyPath,
  report: Report,
): SourceSpec {
  if (data.type === 'telemetry') return readTelemetry(data, zero, path, report);
  const clock = readClock(data.clock, [...path, 'clock'], report);
  const stated = statedOf(readStamping(data));
  if (data.type === 'ephemeris') return { type: 'ephemeris', file: data.file, clock, ...stated };
  const dialect = readDialect(data, path, report);
  if (data.time === undefined) {
    if (!isCaptionFile(data.file)) {
      reportMissing([...path, 'time'], 'only WebVTT and SubRip go without', report);
    }
    return { type: 'events', file: data.file, time: null, clock, dialect, ...stated };
  }
  const time = readTime(data.time, zero, [...path, 'time'], report);
  const needsColumn = !isCaptionFile(data.file) && !isPlainText(data.file);
  if (needsColumn && time.columns.length === 0) {
    reportMissing([...path, 'time', 'column'], 'the column of the stamp', report);
  }
  return { type: 'events', file: data.file, time, clock, dialect, ...stated };
}
