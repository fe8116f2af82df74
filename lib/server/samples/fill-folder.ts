/** The contents of a sample folder, but for its manifest, in a temporary place. */
import { readdir, rm } from 'node:fs/promises';
import path from 'node:path';
import type { DuckDBConnection } from '@duckdb/node-api';
import type { Dialect } from '@/lib/core/intake/dialect';
import { hasErrors, type Issue, invariant } from '@/lib/core/result';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import type { Instant } from '@/lib/core/time/instant';
import { crashPoint } from '../crash-point';
import { type ColumnPlan, missingWords, type PlannedChannel, planColumns } from './column-plan';
import type { PassCare, PassInput } from './data-pass';
import type { DataResult } from './data-result';
import { keepFile, syncPath } from './durable-files';
import { withImportEngine } from './engine';
import { checkResult, quoteIssues } from './import-issues';
import { type ImportProgress, type Watch, watched } from './import-watch';
import { type Extent, levelFile, readExtent, writeLevels } from './level-files';
import { placeLines } from './line-places';
import { checkLongHeader, importLong, type LongResult } from './long-source';
import { isPlain, plainDialect, writePlainCopy } from './plain-copy';
import { writeRejects } from './reject-file';
import { IMPORTER_VERSION, LEVEL_ROWS, type SampleFile } from './sample-manifest';
import { DATA_FILE, REJECTS_FILE, sealFile } from './seal-folder';
import { sentinelIssues } from './sentinels';
import type { SourceHead } from './source-head';
import { type SourceScan, scanSource } from './source-scan';
import { sampleStamps } from './stamp-samples';
import { findTextColumns } from './text-columns';
import type { ScannedPart, SourcePart, TextSource } from './unpack-source';
import { importWide } from './wide-source';

export type ImportRequest = Readonly<{
  /** The files of the source, one or more. */
  parts: readonly SourcePart[];
  spec: TelemetrySpec;
  zero: Instant;
  samplesRoot: string;
  threads?: number;
  /** How the original gets into the folder: a copy (default), a hard link, or not at all. */
  original?: 'copy' | 'link' | 'leave';
  onProgress?: (progress: ImportProgress) => void;
  signal?: AbortSignal;
}>;

const DEFAULT_THREADS = 2;

function keyedMetadata(
  request: ImportRequest,
  sha256: string,
  channels: readonly PlannedChannel[],
): string {
  return JSON.stringify({
    format: 'wakeline/samples/1',
    importer: IMPORTER_VERSION,
    source: { file: request.spec.file, sha256 },
    time: { column: 't', unit: 's', from: 'session zero, on the source clock' },
    zeroTaiNs: String(request.zero.taiNs),
    channels: channels.map(({ stored, name, as, unit }) => ({
      column: stored,
      name,
      as,
      unit,
    })),
  });
}

function filledLinesOfHead(scan: SourceScan, rowsAfterLine: number): number {
  const lines = scan.head.toString('latin1').split('\n').slice(0, rowsAfterLine);
  return lines.filter((line) => line.replace(/\r$/, '') !== '').length;
}

export type Filled = Readonly<{
  plan: ColumnPlan;
  data: DataResult;
  extent: Extent;
  files: readonly SampleFile[];
}>;

/** What is known of the columns before the rows are read; null where the header lacks some. */
async function planSource(
  connection: DuckDBConnection,
  file: string,
  dialect: Dialect,
  spec: TelemetrySpec,
  issues: Issue[],
): Promise<ColumnPlan | null> {
  const header = dialect.columns;
  if (spec.layout === 'long') {
    issues.push(...checkLongHeader(header, spec));
    const stamps = spec.time.columns.map((name) => header.indexOf(name));
    const plan = { columnCount: header.length, stamps, channels: [], texts: [] };
    return hasErrors(issues) ? null : plan;
  }
  const texts = await findTextColumns(connection, file, dialect, spec);
  const planned = planColumns(header, spec, texts);
  issues.push(...planned.issues);
  return hasErrors(issues) ? null : planned.plan;
}

async function readRows(
  input: PassInput,
  spec: TelemetrySpec,
  care: PassCare,
): Promise<LongResult> {
  if (spec.layout === 'long') return importLong(input, spec);
  return { plan: input.plan, data: await importWide(input, care), issues: [] };
}

/** The originals of a source beside its samples: `original.csv`, or numbered ones of several. */
export async function keepOriginals(
  parts: readonly ScannedPart[],
  temporary: string,
  how: 'copy' | 'link' | 'leave',
): Promise<SampleFile[]> {
  if (how === 'leave') return [];
  const files: SampleFile[] = [];
  for (const [index, { name: from, file, scan }] of parts.entries()) {
    const extension = /(?:\.[A-Za-z0-9]{1,8}){1,2}$/.exec(from)?.[0] ?? '';
    const name = `original${parts.length > 1 ? `-${index + 1}` : ''}${extension}`;
    await keepFile(path.resolve(file), path.join(temporary, name), how);
    await syncPath(path.join(temporary, name));
    files.push({ name, bytes: scan.bytes, sha256: scan.sha256 });
  }
  crashPoint('samples:original-kept');
  return files;
}

/** What an import has found out before the rows are read. */
export type Prepared = Readonly<{
  source: TextSource;
  head: SourceHead;
  /** SHA-256 of the source as it came. */
  sha256: string;
  temporary: string;
}>;

/** The text that DuckDB reads: the source itself, or a plain copy of it in the folder. */
async function plainText({ source, head, temporary }: Prepared, signal: AbortSignal | undefined) {
  const file = path.resolve(source.file);
  if (isPlain(source.scan, head)) return { file, scan: source.scan, dialect: head.dialect };
  const copy = path.join(temporary, 'plain.csv');
  await writePlainCopy(file, copy, { ...head, signal });
  const scan = await scanSource(copy, { signal });
  return { file: copy, scan, dialect: plainDialect(head.dialect) };
}

/** Everything inside the temporary folder but the manifest and the originals. */
export async function fillFolder(
  request: ImportRequest,
  prepared: Prepared,
  watch: Watch,
  issues: Issue[],
): Promise<Filled | null> {
  const { temporary, head } = prepared;
  const { spec } = head;
  const { scan } = prepared.source;
  const files: SampleFile[] = [];
  const { file: plainFile, scan: plain, dialect } = await plainText(prepared, request.signal);

  return withImportEngine(
    {
      threads: request.threads ?? DEFAULT_THREADS,
      folder: temporary,
      sourceFile: plainFile,
      signal: request.signal,
    },
    async (connection) => {
      const base = await planSource(connection, plainFile, dialect, spec, issues);
      if (base === null) return null;
      const dataFile = path.join(temporary, DATA_FILE);
      const input: PassInput = {
        connection,
        file: plainFile,
        dataFile,
        dialect,
        header: dialect.columns,
        plan: base,
        time: spec.time,
        absentWords: missingWords(spec),
        zero: request.zero,
        stampSamples: sampleStamps(plain, dialect, base),
        metadataOf: (channels) => keyedMetadata(request, prepared.sha256, channels),
        hasQuote: plain.hasQuote,
      };
      watch.enter('data');
      const onShare = (share: number) => watch.tell(Math.round(share * scan.bytes), null);
      const rows = await watched(connection, onShare, () =>
        readRows(input, spec, plain.hasLetterN ? 'guarded' : 'plain'),
      );
      issues.push(...rows.issues);
      const { plan } = rows;
      let { data } = rows;
      const levels = {
        connection,
        folder: temporary,
        dataFile,
        stored: plan.channels.map((channel) => channel.stored),
      };
      watch.enter('check');
      if (hasErrors(issues)) return null;
      const filled = plain.filledLines - filledLinesOfHead(plain, dialect.rowsAfterLine);
      const counted = plain.hasQuote ? null : filled;
      data = placeLines(data, prepared.source.places);
      issues.push(...checkResult(spec, plan, data, counted));
      if (plain.hasQuote) issues.push(...quoteIssues(spec.file, data, filled));
      if (hasErrors(issues)) return null;
      watch.enter('levels');
      watch.tell(scan.bytes, data.rows);
      // The disk takes the data while the processor makes the levels.
      const seal = () => sealFile(temporary, DATA_FILE, 'samples:data-written');
      let [sealed] = await Promise.all([seal(), writeLevels(levels)]);
      let extent = await readExtent(levels);
      if (extent.channels.some(({ min, max }) => !isFiniteOrNull(min) || !isFiniteOrNull(max))) {
        // A number too large for a double came in as infinite.
        ({ data } = await readRows(input, spec, 'guarded'));
        data = placeLines(data, prepared.source.places);
        [sealed] = await Promise.all([seal(), writeLevels(levels)]);
        extent = await readExtent(levels);
      }
      invariant(extent.rows === data.rows, 'rows of the data file and of its levels differ');
      if (data.rejects.length > 0) {
        await writeRejects(connection, path.join(temporary, REJECTS_FILE), data.rejects);
      }
      watch.enter('seal');
      issues.push(...(await sentinelIssues(levels, { plan, extent, file: spec.file })));
      for (const text of await readdir(temporary)) {
        if (text.endsWith('.csv') && !text.startsWith('original'))
          await rm(path.join(temporary, text));
      }
      await rm(path.join(temporary, 'spill'), { recursive: true, force: true });
      files.push(sealed);
      for (const level of LEVEL_ROWS) {
        files.push(await sealFile(temporary, levelFile(level), 'samples:levels-written'));
      }
      if (data.rejects.length > 0) {
        files.push(await sealFile(temporary, REJECTS_FILE, 'samples:levels-written'));
      }
      return { plan, data, extent, files };
    },
  );
}

function isFiniteOrNull(value: number | null): boolean {
  return value === null || Number.isFinite(value);
}
