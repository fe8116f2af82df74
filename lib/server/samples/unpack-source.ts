/** A telemetry file, in whatever form it comes, to one delimited text. */
import path from 'node:path';
import { hasErrors, type Issue } from '@/lib/core/result';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import type { KnownTurn } from '@/lib/core/time/carry-days';
import { type LinePlaces, ownLines } from './line-places';
import { type SourceScan, scanSource } from './source-scan';
import { textForm } from './text-form';
import { unpackCcsds } from './unpack-ccsds';
import { unpackGzip } from './unpack-gzip';
import { unpackJson } from './unpack-json';
import { unpackParquet } from './unpack-parquet';

/** One file of a source: its name as the session file has it, and where it lies. */
export type SourcePart = Readonly<{ name: string; file: string }>;

export type ScannedPart = SourcePart & Readonly<{ scan: SourceScan }>;

/** A source as delimited text, and what its own form says of it. */
export type TextSource = Readonly<{
  file: string;
  scan: SourceScan;
  spec: TelemetrySpec;
  /** Units that the form itself fixes, by column; null where it fixes none. */
  units: ReadonlyMap<string, string | null> | null;
  places: LinePlaces;
  /** Days known to pass between files that were joined; absent where none are. */
  turns?: readonly KnownTurn[];
}>;

export type Unpacking = Readonly<{
  /** The temporary folder of the import. */
  folder: string;
  /** Tells the texts of several parts apart. */
  label: string;
  threads: number;
  signal: AbortSignal | undefined;
}>;

export type Unpacked = Readonly<{ source: TextSource | null; issues: readonly Issue[] }>;

/** The same source with other text. */
async function rescan(source: TextSource, file: string, how: Unpacking): Promise<TextSource> {
  return { ...source, file, scan: await scanSource(file, { signal: how.signal }) };
}

async function unpackOnce(source: TextSource, name: string, how: Unpacking): Promise<Unpacked> {
  const form = textForm(source.scan.start);
  const { bytes, encoding } = source.scan;
  const packed = { file: source.file, name, bytes, encoding };
  const target = path.join(how.folder, `${how.label}-${form}.csv`);
  const { signal } = how;
  const done = async (issue: Issue | null): Promise<Unpacked> =>
    issue === null
      ? { source: await rescan(source, target, how), issues: [] }
      : { source: null, issues: [issue] };
  switch (form) {
    case 'delimited':
      return { source, issues: [] };
    case 'gzip': {
      const unpacked = await done(await unpackGzip(packed, target, signal));
      return unpacked.source === null ? unpacked : unpackInner(unpacked.source, name, how);
    }
    case 'json-lines': {
      const { source: text, issues } = await done(await unpackJson(packed, target, signal));
      const places = [{ fromLine: 1, file: name, shift: 1 }];
      return { source: text === null ? null : { ...text, places }, issues };
    }
    case 'parquet': {
      const { source: text, issues } = await done(await unpackParquet(packed, target, how));
      // What is named is the row: the text has a line of names above the first.
      const places = [{ fromLine: 1, file: name, shift: 1 }];
      return { source: text === null ? null : { ...text, places }, issues };
    }
    case 'ccsds': {
      const { time, units, places, issues } = await unpackCcsds(packed, target, source.spec.time);
      if (hasErrors(issues)) return { source: null, issues };
      const spec = { ...source.spec, time };
      return { source: { ...(await rescan(source, target, how)), spec, units, places }, issues };
    }
  }
}

/** What was packed may be any form but packed again. */
async function unpackInner(source: TextSource, name: string, how: Unpacking): Promise<Unpacked> {
  if (textForm(source.scan.start) !== 'gzip') return unpackOnce(source, name, how);
  const message = 'is packed twice with gzip; unpack it once';
  return { source: null, issues: [{ code: 'gzip-twice', severity: 'error', file: name, message }] };
}

/** A part as delimited text: the file itself where it is that already, else a text in the folder. */
export function unpackPart(
  part: ScannedPart,
  spec: TelemetrySpec,
  how: Unpacking,
): Promise<Unpacked> {
  const { name, file, scan } = part;
  const source = { file, scan, spec, units: null, places: ownLines(name) };
  return unpackOnce(source, name, how);
}
