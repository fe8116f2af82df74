/** The contents of a sample folder, but for its manifest, in a temporary place. */
import { rm } from 'node:fs/promises';
import path from 'node:path';
import type { DuckDBConnection } from '@duckdb/node-api';
import type { Dialect } from '@/lib/core/intake/dialect';
import { hasErrors, type Issue, invariant } from '@/lib/core/result';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import type { Instant } from '@/lib/core/time/instant';
import { crashPoint } from '../crash-point';
import { type ColumnPlan, type PlannedChannel, planColumns } from './column-plan';
import type { PassCare, PassInput } from './data-pass';
import type { DataResult } from './data-result';
import { keepFile, syncPath } from './durable-files';
import { withImportEngine } from './engine';
import { checkResult, quoteIssues } from './import-issues';
import { type ImportProgress, type Watch, watched } from './import-watch';
import { type Extent, levelFile, readExtent, writeLevels } from './level-files';
import { checkLongHeader, importLong, type LongResult } from './long-source';
import { isPlain, writePlainCopy } from './plain-copy';
import { writeRejects } from './reject-file';
import { IMPORTER_VERSION, LEVEL_ROWS, type SampleFile } from './sample-manifest';
import { DATA_FILE, REJECTS_FILE, sealFile } from './seal-folder';
import type { SourceHead } from './source-head';
import { type SourceScan, scanSource } from './source-scan';
import { sampleStamps } from './stamp-samples';
import { findTextColumns } from './text-columns';
import { importWide } from './wide-source';

export type ImportRequest = Readonly<{
  /** Path of the source file. */
  file: string;
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
  scan: SourceScan,
  channels: readonly PlannedChannel[],
): string {
  return JSON.stringify({
    format: 'wakeline/samples/1',
    importer: IMPORTER_VERSION,
    source: { file: request.spec.file, sha256: scan.sha256 },
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

function filledLinesOfHead(scan: SourceScan, headerLine: number): number {
  const lines = scan.head.toString('latin1').split('\n').slice(0, headerLine);
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

/** Everything inside the temporary folder but the manifest. */
export async function fillFolder(
  request: ImportRequest,
  scan: SourceScan,
  head: SourceHead,
  temporary: string,
  watch: Watch,
  issues: Issue[],
): Promise<Filled | null> {
  const { spec } = request;
  const source = path.resolve(request.file);
  const files: SampleFile[] = [];
  const how = request.original ?? 'copy';
  if (how !== 'leave') {
    const extension = /\.[A-Za-z0-9]{1,8}$/.exec(spec.file)?.[0] ?? '';
    const name = `original${extension}`;
    await keepFile(source, path.join(temporary, name), how);
    await syncPath(path.join(temporary, name));
    files.push({ name, bytes: scan.bytes, sha256: scan.sha256 });
    crashPoint('samples:original-kept');
  }
  const isSource = isPlain(scan, head.encoding);
  const plainFile = isSource ? source : path.join(temporary, 'plain.csv');
  if (!isSource) await writePlainCopy(source, plainFile, head.encoding, request.signal);
  const plain = isSource ? scan : await scanSource(plainFile, { signal: request.signal });

  return withImportEngine(
    {
      threads: request.threads ?? DEFAULT_THREADS,
      folder: temporary,
      sourceFile: plainFile,
      signal: request.signal,
    },
    async (connection) => {
      const { dialect } = head;
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
        zero: request.zero,
        stampSamples: sampleStamps(plain, dialect, base),
        metadataOf: (channels) => keyedMetadata(request, scan, channels),
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
      const filled = plain.filledLines - filledLinesOfHead(plain, dialect.headerLine);
      const counted = plain.hasQuote ? null : filled;
      issues.push(...checkResult(request.spec, plan, data, counted));
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
        [sealed] = await Promise.all([seal(), writeLevels(levels)]);
        extent = await readExtent(levels);
      }
      invariant(extent.rows === data.rows, 'rows of the data file and of its levels differ');
      if (data.rejects.length > 0) {
        await writeRejects(connection, path.join(temporary, REJECTS_FILE), data.rejects);
      }
      watch.enter('seal');
      if (!isSource) await rm(plainFile);
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
