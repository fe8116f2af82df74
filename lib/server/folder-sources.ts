/** The sources of a session folder: logs and ephemerides whole, telemetry through the sample store. */
import { readEventLog } from '@/lib/core/intake/event-log';
import { readCcsdsMessage } from '@/lib/core/intake/formats/ccsds-message';
import { hasErrors, type Issue } from '@/lib/core/result';
import { farFromZeroIssue } from '@/lib/core/session/far-from-zero';
import type { EventSpec, SessionFile, TelemetrySpec } from '@/lib/core/session/session-file';
import type { EventSource, SessionSource, TelemetrySource } from '@/lib/core/session/session-input';
import { stampingOf, statedOf } from '@/lib/core/session/stamping';
import { rolloverIssue } from '@/lib/core/time/gps-rollover';
import { type Gathered, type TelemetryFolder, takeText } from './folder-reading';
import { readText } from './read-text';
import { importTelemetry } from './samples/import-telemetry';
import type { ImportProgress } from './samples/import-watch';
import { readTelemetrySource } from './samples/read-telemetry';
import { checkTelemetryHead } from './samples/source-head';
import type { SourcePart } from './samples/unpack-source';
import { findSourceFiles } from './source-files';

const MOST_LOG_BYTES = 64 * 1024 * 1024;

function noteFar(
  gathered: Gathered,
  spec: EventSpec | TelemetrySpec,
  extent: Readonly<{ fromS: number; toS: number }>,
): void {
  const isWeeks = spec.time?.code === 'gps-week-seconds' && spec.clock.kind === 'given';
  const rollover = isWeeks ? rolloverIssue(spec.file, extent.fromS) : null;
  const issue = rollover ?? farFromZeroIssue(spec.file, spec.clock, extent);
  if (issue !== null) gathered.issues.push(issue);
}

async function readEvents(
  gathered: Gathered,
  spec: EventSpec,
  session: SessionFile,
): Promise<EventSource | null> {
  const { encoding } = spec.dialect;
  const wish = { mostBytes: MOST_LOG_BYTES, encoding, otherwise: 'assume' } as const;
  const found = takeText(gathered, await readText(gathered.folder, spec.file, wish));
  if (found === null) return null;
  const log = readEventLog({
    text: found.text,
    fileName: spec.file,
    time: spec.time,
    zero: session.zero,
    separator: spec.dialect.separator,
  });
  gathered.issues.push(...log.issues);
  if (log.value === null) return null;
  const { entries } = log.value;
  const [first, last] = [entries[0], entries.at(-1)];
  if (first !== undefined && last !== undefined) {
    noteFar(gathered, spec, { fromS: first.sourceS, toS: last.sourceS });
  }
  return {
    type: 'events',
    file: spec.file,
    sha256: found.file.sha256,
    clock: spec.clock,
    ...statedOf(stampingOf(spec)),
    ...log.value,
  };
}

/** Cheap checks of telemetry files, so that every fault of a folder is told in one go. */
async function checkTelemetry(
  gathered: Gathered,
  spec: TelemetrySpec,
): Promise<readonly SourcePart[]> {
  const { parts, issues } = await findSourceFiles(gathered.folder, spec.files);
  gathered.issues.push(...issues);
  // Of several files each may hold other channels; the import tells which are in none.
  const channels = parts.length > 1 && spec.layout === 'wide' ? [] : spec.channels;
  for (const { name, file } of parts) {
    gathered.issues.push(...(await checkTelemetryHead(file, { ...spec, file: name, channels })));
  }
  return issues.length > 0 ? [] : parts;
}

async function readTelemetry(
  gathered: Gathered,
  spec: TelemetrySpec,
  parts: readonly SourcePart[],
  session: SessionFile,
): Promise<Readonly<{ source: TelemetrySource; folder: TelemetryFolder }> | null> {
  const { onProgress, samplesRoot, threads, original, signal } = gathered.options;
  const outcome = await importTelemetry({
    parts,
    spec,
    zero: session.zero,
    samplesRoot,
    ...(threads === undefined ? {} : { threads }),
    ...(original === undefined ? {} : { original }),
    ...(signal === undefined ? {} : { signal }),
    ...(onProgress === undefined
      ? {}
      : { onProgress: (progress: ImportProgress) => onProgress({ ...progress, file: spec.file }) }),
  });
  gathered.issues.push(...outcome.issues);
  const { folder, report } = outcome;
  if (folder === null || report === null || report.source === null) return null;
  const { sha256, bytes } = report.source;
  // The source as a whole, and the files of it that are called otherwise.
  gathered.files.push({ name: spec.file, sha256, bytes });
  gathered.files.push(...report.parts.filter(({ name }) => name !== spec.file));
  if (report.fromS !== null && report.toS !== null) {
    noteFar(gathered, spec, { fromS: report.fromS, toS: report.toS });
  }
  const source = await readTelemetrySource(samplesRoot, folder, spec);
  return { source, folder: { file: spec.file, folder, report } };
}

function segmentsText(count: number): string {
  return count === 1 ? '1 segment' : `${count} segments`;
}

/** What is kept and said, because nothing is computed from it yet. */
export async function noteUnused(gathered: Gathered, session: SessionFile): Promise<Issue[]> {
  const notes: Issue[] = [];
  for (const spec of session.sources) {
    if (spec.type !== 'ephemeris') continue;
    const wish = { mostBytes: MOST_LOG_BYTES, encoding: null, otherwise: 'refuse' } as const;
    const found = takeText(gathered, await readText(gathered.folder, spec.file, wish));
    if (found === null) continue;
    const { value, issues } = readCcsdsMessage(found.text, spec.file);
    gathered.issues.push(...issues);
    if (value === null) continue;
    const states = value.segments.reduce((sum, segment) => sum + segment.rows.length, 0);
    notes.push({
      code: 'not-computed',
      severity: 'note',
      file: spec.file,
      message: `the ${value.kind} has ${states} rows in ${segmentsText(value.segments.length)}; it is kept but nothing is computed from it yet`,
    });
  }
  gathered.issues.push(...notes);
  return notes;
}

type Sources = Readonly<{
  sources: readonly SessionSource[];
  telemetry: readonly TelemetryFolder[];
}>;

/** Logs and heads first, which is quick; samples only when nothing stands in the way. */
export async function readSources(gathered: Gathered, session: SessionFile): Promise<Sources> {
  const logs = new Map<string, EventSource>();
  const found = new Map<string, readonly SourcePart[]>();
  for (const spec of session.sources) {
    gathered.options.signal?.throwIfAborted();
    if (spec.type === 'events') {
      const log = await readEvents(gathered, spec, session);
      if (log !== null) logs.set(spec.file, log);
    } else if (spec.type === 'telemetry') {
      found.set(spec.file, await checkTelemetry(gathered, spec));
    }
  }
  const sources: SessionSource[] = [];
  const telemetry: TelemetryFolder[] = [];
  if (hasErrors(gathered.issues)) return { sources, telemetry };
  for (const spec of session.sources) {
    const log = logs.get(spec.file);
    if (log !== undefined) sources.push(log);
    const parts = found.get(spec.file) ?? [];
    if (spec.type !== 'telemetry' || parts.length === 0) continue;
    const read = await readTelemetry(gathered, spec, parts, session);
    if (read === null) continue;
    sources.push(read.source);
    telemetry.push(read.folder);
  }
  return { sources, telemetry };
}
