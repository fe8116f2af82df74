/**
 * A telemetry file into an immutable sample folder.
 *
 * Nothing is visible before the last rename; whatever stops an import, at most a temporary folder is
 * left, which `sweepTemporary` removes at the next start.
 */
import { mkdir, rm, stat, statfs } from 'node:fs/promises';
import path from 'node:path';
import type { DuckDBConnection } from '@duckdb/node-api';
import { type Dialect, detectDialect } from '@/lib/core/intake/dialect';
import { hasErrors, type Issue, invariant } from '@/lib/core/result';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import type { Instant } from '@/lib/core/time/instant';
import { crashPoint } from '../crash-point';
import { type ColumnPlan, planColumns } from './column-plan';
import { columnsOf, samplePath } from './columns-of';
import type { PassInput } from './data-pass';
import type { DataResult } from './data-result';
import { isSystemError, keepFile, pathExists, syncPath } from './durable-files';
import { withImportEngine } from './engine';
import { sourceFolderName } from './folder-name';
import { type Extent, LEVEL_FILES, readExtent, writeLevels } from './level-files';
import { chooseEncoding, isPlain, writePlainCopy } from './plain-copy';
import { rejectIssues, writeRejects } from './reject-file';
import { IMPORTER_VERSION, type SampleFile, type SampleManifest } from './sample-manifest';
import { DATA_FILE, makeTemporaryFolder, REJECTS_FILE, sealFile, sealFolder } from './seal-folder';
import { type SourceScan, scanSource } from './source-scan';
import { sampleStamps } from './stamp-samples';
import { findTextColumns } from './text-columns';
import { verifyFolder } from './verify-folder';
import { importWide } from './wide-source';

export type ImportStage = 'hash' | 'head' | 'data' | 'check' | 'levels' | 'seal';

/** `rowsDone` is null while rows are not counted yet. */
export type ImportProgress = Readonly<{
  stage: ImportStage;
  bytesDone: number;
  bytesTotal: number;
  rowsDone: number | null;
}>;

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

/** What became of the file; the manifest without the hashes of the folder's own files. */
export type ImportReport = Omit<SampleManifest, 'files'> & Readonly<{ recognised: boolean }>;

/** `folder` is null when an issue of severity `error` stopped the import. */
export type ImportOutcome = Readonly<{
  folder: string | null;
  report: ImportReport | null;
  issues: readonly Issue[];
}>;

const DEFAULT_THREADS = 2;
/** Store and original together take less than this many times the source. */
const SPACE_FACTOR = 2.2;
const MIB = 1024 * 1024;
const PROGRESS_MS = 200;

type Watch = Readonly<{
  seconds: Record<string, number>;
  enter: (stage: ImportStage) => void;
  tell: (bytesDone: number, rowsDone: number | null) => void;
  leave: () => void;
}>;

/** Seconds of each stage, and its progress to whoever listens. */
function startWatch(request: ImportRequest, bytesTotal: number): Watch {
  const seconds: Record<string, number> = {};
  let stage: ImportStage = 'hash';
  let since = performance.now();
  const tell = (bytesDone: number, rowsDone: number | null) =>
    request.onProgress?.({ stage, bytesDone, bytesTotal, rowsDone });
  const leave = () => {
    const now = performance.now();
    seconds[stage] = Math.round(((seconds[stage] ?? 0) * 1000 + now - since) * 10) / 10_000;
    since = now;
  };
  return {
    seconds,
    tell,
    leave,
    enter: (next) => {
      request.signal?.throwIfAborted();
      leave();
      stage = next;
      tell(next === 'head' || next === 'data' ? 0 : bytesTotal, null);
    },
  };
}

function refuse(issues: readonly Issue[]): ImportOutcome {
  return { folder: null, report: null, issues };
}

function reportOf(manifest: SampleManifest, recognised: boolean): ImportReport {
  const { files: _files, ...rest } = manifest;
  return { ...rest, recognised };
}

/** The folder of an earlier import of the same file, when it is there and whole. */
async function findEarlier(
  request: ImportRequest,
  folder: string,
): Promise<Readonly<{ outcome: ImportOutcome | null; issues: readonly Issue[] }>> {
  const place = samplePath(request.samplesRoot, folder);
  if (!(await pathExists(place))) return { outcome: null, issues: [] };
  const damage = await verifyFolder(request.samplesRoot, folder);
  if (hasErrors(damage)) {
    await rm(place, { recursive: true, force: true });
    const note: Issue = {
      code: 'samples-imported-again',
      severity: 'warning',
      file: request.spec.file,
      message: `its stored samples were damaged (${damage[0]?.message ?? ''}); they were made again`,
    };
    return { outcome: null, issues: [note] };
  }
  const manifest = await columnsOf(request.samplesRoot, folder);
  const issues = manifestIssues(manifest, request.spec.file);
  return { outcome: { folder, report: reportOf(manifest, true), issues }, issues: [] };
}

/** What a manifest alone has to say about the source. */
function manifestIssues(manifest: SampleManifest, file: string): Issue[] {
  const issues: Issue[] = [];
  if (manifest.rowsRejected + manifest.cellsRejected > 0) {
    issues.push({
      code: 'rejects',
      severity: 'warning',
      file,
      message: `${manifest.rowsRejected} of ${manifest.rowsRead} rows and ${manifest.cellsRejected} cells could not be used`,
    });
  }
  if (manifest.rowsOutOfOrder > 0) {
    const first = manifest.stampFaults[0];
    issues.push({
      code: 'time-not-ascending',
      severity: 'warning',
      file,
      ...(first === undefined ? {} : { line: first.line }),
      message: `${manifest.rowsOutOfOrder} rows repeat a stamp or step back in time; they are kept out of the series`,
    });
  }
  const notFinite = manifest.channels.filter((channel) => channel.notFinite > 0);
  if (notFinite.length > 0) {
    issues.push({
      code: 'not-finite',
      severity: 'note',
      file,
      message: `NaN or infinite numbers are taken as no sample: ${notFinite
        .map((channel) => `${channel.name} ${channel.notFinite}`)
        .join(', ')}`,
    });
  }
  return issues;
}

async function checkSpace(request: ImportRequest, bytes: number): Promise<Issue | null> {
  const disk = await statfs(request.samplesRoot);
  const free = disk.bavail * disk.bsize;
  const needed = Math.ceil(bytes * SPACE_FACTOR) + 16 * MIB;
  if (free >= needed) return null;
  return {
    code: 'disk-space',
    severity: 'error',
    file: request.spec.file,
    message: `not enough room on the disk: ${Math.floor(free / MIB)} MiB free, about ${Math.ceil(needed / MIB)} MiB needed`,
    expected: `${needed} bytes`,
    received: `${free} bytes`,
  };
}

function keyedMetadata(request: ImportRequest, scan: SourceScan, plan: ColumnPlan): string {
  return JSON.stringify({
    format: 'wakeline/samples/1',
    importer: IMPORTER_VERSION,
    source: { file: request.spec.file, sha256: scan.sha256 },
    time: { column: 't', unit: 's', from: 'session zero, on the source clock' },
    zeroTaiNs: String(request.zero.taiNs),
    channels: plan.channels.map(({ stored, name, as, unit }) => ({
      column: stored,
      name,
      as,
      unit,
    })),
  });
}

type Read = Readonly<{
  scan: SourceScan;
  dialect: Dialect;
  label: string;
  issues: readonly Issue[];
}>;

/** Encoding and dialect; null with issues when either cannot be told. */
function readHead(
  request: ImportRequest,
  scan: SourceScan,
): Readonly<{ read: Read | null; issues: readonly Issue[] }> {
  const { file, dialect: stated } = request.spec;
  if (scan.bytes === 0) {
    const issue: Issue = {
      code: 'file-empty',
      severity: 'error',
      file,
      message: 'the file is empty; expected a header line and rows',
    };
    return { read: null, issues: [issue] };
  }
  const { label, issue } = chooseEncoding(scan, stated.encoding, file);
  if (label === null) return { read: null, issues: issue === null ? [] : [issue] };
  const found = detectDialect(new TextDecoder(label).decode(scan.head), stated);
  const issues = found.issues.map((each) => ({ ...each, file }));
  if (found.value === null || hasErrors(issues)) return { read: null, issues };
  return { read: { scan, dialect: found.value, label, issues }, issues };
}

/** Checks of what came out: nothing lost, nothing that is only noise. */
function checkResult(
  request: ImportRequest,
  plan: ColumnPlan,
  data: DataResult,
  countedRows: number | null,
): Issue[] {
  const { file } = request.spec;
  const issues: Issue[] = [];
  if (data.rowsRead === 0) {
    issues.push({
      code: 'no-rows',
      severity: 'error',
      file,
      message: 'there is no row of data under the header',
      expected: 'at least one row',
    });
    return issues;
  }
  if (countedRows !== null && countedRows !== data.rowsRead) {
    issues.push({
      code: 'rows-unaccounted',
      severity: 'error',
      file,
      message: `${countedRows} lines hold data but ${data.rowsRead} rows were read; the lines may be cut or quoted in an unusual way`,
      expected: `${countedRows} rows`,
      received: `${data.rowsRead} rows`,
    });
  }
  if (data.rows === 0) {
    const first = data.rejects.find((reject) => reject.reason === 'stamp-unreadable');
    issues.push({
      code: 'no-usable-rows',
      severity: 'error',
      file,
      ...(first === undefined ? {} : { line: first.line }),
      message:
        first === undefined
          ? 'no row of the file could be used'
          : `no row has a stamp that reads as ${request.spec.time.code}; the first is "${first.text}"`,
      expected: request.spec.time.code,
      ...(first === undefined ? {} : { received: first.text }),
    });
  }
  plan.channels.forEach((channel, index) => {
    const bad = data.rejectedCells[index] ?? 0;
    if (!channel.mapped || 2 * bad <= data.rowsRead) return;
    const first = data.rejects.find((reject) => reject.column === channel.name);
    issues.push({
      code: 'channel-not-numeric',
      severity: 'error',
      file,
      ...(first === undefined ? {} : { line: first.line, received: first.text }),
      message: `${bad} of ${data.rowsRead} cells of channel "${channel.name}" are no numbers${first === undefined ? '' : `, the first is "${first.text}"`}; the decimal sign or the column may be another`,
      expected: 'numbers',
    });
  });
  return issues;
}

function filledLinesOfHead(scan: SourceScan, headerLine: number): number {
  const lines = scan.head.toString('latin1').split('\n').slice(0, headerLine);
  return lines.filter((line) => line.replace(/\r$/, '') !== '').length;
}

/** Polls DuckDB's own estimate of how far a statement is. */
async function watched<T>(
  connection: DuckDBConnection,
  onShare: (share: number) => void,
  work: () => Promise<T>,
): Promise<T> {
  const timer = setInterval(() => {
    const { percentage } = connection.progress;
    if (percentage > 0) onShare(Math.min(1, percentage / 100));
  }, PROGRESS_MS);
  try {
    return await work();
  } finally {
    clearInterval(timer);
  }
}

type Filled = Readonly<{
  plan: ColumnPlan;
  data: DataResult;
  extent: Extent;
  files: readonly SampleFile[];
}>;

/** Everything inside the temporary folder but the manifest. */
async function fillFolder(
  request: ImportRequest,
  read: Read,
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
    files.push({ name, bytes: read.scan.bytes, sha256: read.scan.sha256 });
    crashPoint('samples:original-kept');
  }
  const isSource = isPlain(read.scan, read.label);
  const plainFile = isSource ? source : path.join(temporary, 'plain.csv');
  if (!isSource) await writePlainCopy(source, plainFile, read.label, request.signal);
  const scan = isSource ? read.scan : await scanSource(plainFile, { signal: request.signal });

  return withImportEngine(
    {
      threads: request.threads ?? DEFAULT_THREADS,
      folder: temporary,
      sourceFile: plainFile,
      signal: request.signal,
    },
    async (connection) => {
      const texts = await findTextColumns(connection, plainFile, read.dialect, spec);
      const planned = planColumns(read.dialect.columns, spec, texts);
      issues.push(...planned.issues);
      if (hasErrors(issues)) return null;
      const { plan } = planned;
      const dataFile = path.join(temporary, DATA_FILE);
      const input: PassInput = {
        connection,
        file: plainFile,
        dataFile,
        dialect: read.dialect,
        plan,
        time: spec.time,
        zero: request.zero,
        stampSamples: sampleStamps(scan, read.dialect, plan),
        metadata: keyedMetadata(request, read.scan, plan),
        hasQuote: scan.hasQuote,
      };
      const levels = {
        connection,
        dataFile,
        level64File: path.join(temporary, LEVEL_FILES[64]),
        level4096File: path.join(temporary, LEVEL_FILES[4096]),
        stored: plan.channels.map((channel) => channel.stored),
      };
      watch.enter('data');
      const onShare = (share: number) => watch.tell(Math.round(share * read.scan.bytes), null);
      let data = await watched(connection, onShare, () =>
        importWide(input, scan.hasLetterN ? 'guarded' : 'plain'),
      );
      watch.enter('check');
      const counted = scan.hasQuote
        ? null
        : scan.filledLines - filledLinesOfHead(scan, read.dialect.headerLine);
      issues.push(...checkResult(request, plan, data, counted));
      if (hasErrors(issues)) return null;
      watch.enter('levels');
      watch.tell(read.scan.bytes, data.rows);
      await writeLevels(levels);
      let extent = await readExtent(levels);
      if (extent.channels.some(({ min, max }) => !isFiniteOrNull(min) || !isFiniteOrNull(max))) {
        // A number too large for a double came in as infinite.
        data = await importWide(input, 'guarded');
        await rm(levels.level64File);
        await rm(levels.level4096File);
        await writeLevels(levels);
        extent = await readExtent(levels);
      }
      invariant(extent.rows === data.rows, 'rows of the data file and of its levels differ');
      if (data.rejects.length > 0) {
        await writeRejects(connection, path.join(temporary, REJECTS_FILE), data.rejects);
      }
      watch.enter('seal');
      if (!isSource) await rm(plainFile);
      await rm(path.join(temporary, 'spill'), { recursive: true, force: true });
      files.push(await sealFile(temporary, DATA_FILE, 'samples:data-written'));
      for (const name of Object.values(LEVEL_FILES)) {
        files.push(await sealFile(temporary, name, 'samples:levels-written'));
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

function manifestOf(
  request: ImportRequest,
  read: Read,
  filled: Filled,
  watch: Watch,
): SampleManifest {
  const { data, extent, plan } = filled;
  return {
    format: 'wakeline/samples/1',
    importer: IMPORTER_VERSION,
    content: 'source',
    source: { file: request.spec.file, sha256: read.scan.sha256, bytes: read.scan.bytes },
    zeroTaiNs: String(request.zero.taiNs),
    dialect: {
      separator: read.dialect.separator,
      decimal: read.dialect.decimal,
      quote: read.dialect.quote,
      headerLine: read.dialect.headerLine,
    },
    rows: data.rows,
    rowsRead: data.rowsRead,
    rowsRejected: data.rowsRejected,
    cellsRejected: data.rejectedCells.reduce((sum, count) => sum + count, 0),
    rowsOutOfOrder: data.rowsOutOfOrder,
    stampFaults: [...data.stampFaults],
    fromS: extent.fromS,
    toS: extent.toS,
    channels: plan.channels.map((channel, index) => ({
      name: channel.name,
      stored: channel.stored,
      as: channel.as,
      unit: channel.unit,
      sourceUnit: channel.sourceUnit,
      mapped: channel.mapped,
      notFinite: data.notFinite[index] ?? 0,
      rejectedCells: data.rejectedCells[index] ?? 0,
      ...(extent.channels[index] ?? { samples: 0, min: null, max: null }),
    })),
    textColumns: plan.texts.map((text) => text.stored),
    files: [...filled.files],
    stageSeconds: watch.seconds,
  };
}

async function importInto(
  request: ImportRequest,
  read: Read,
  folder: string,
  watch: Watch,
  before: Readonly<{ mtimeMs: number; size: number }>,
): Promise<ImportOutcome> {
  const issues = [...read.issues];
  const temporary = await makeTemporaryFolder(request.samplesRoot);
  try {
    const filled = await fillFolder(request, read, temporary, watch, issues);
    if (filled === null) return refuse(issues);
    const after = await stat(request.file);
    if (after.size !== before.size || after.mtimeMs !== before.mtimeMs) {
      return refuse([
        ...issues,
        {
          code: 'file-changed',
          severity: 'error',
          file: request.spec.file,
          message: 'the file changed while it was read; import it again when nothing writes to it',
        },
      ]);
    }
    request.signal?.throwIfAborted();
    watch.leave();
    const manifest = manifestOf(request, read, filled, watch);
    const target = samplePath(request.samplesRoot, folder);
    const done = await sealFolder(temporary, target, manifest);
    const { data } = filled;
    const total = data.rowsRejected + manifest.cellsRejected;
    return {
      folder,
      report: reportOf(manifest, done === 'there'),
      issues: [
        ...issues,
        ...manifestIssues(manifest, request.spec.file),
        ...rejectIssues(request.spec.file, data.rejects, total),
      ],
    };
  } finally {
    await rm(temporary, { recursive: true, force: true });
  }
}

/**
 * Imports one telemetry file. The same file read the same way twice gives the same folder and no
 * second import. What is wrong with the file is an issue; an abort and a failing disk are thrown.
 */
export async function importTelemetry(request: ImportRequest): Promise<ImportOutcome> {
  const { file, spec, zero, samplesRoot, signal } = request;
  signal?.throwIfAborted();
  await mkdir(samplesRoot, { recursive: true });
  let before: Awaited<ReturnType<typeof stat>>;
  try {
    before = await stat(file);
  } catch (error) {
    if (!isSystemError(error, ['ENOENT', 'ENOTDIR', 'EACCES'])) throw error;
    return refuse([
      {
        code: 'file-missing',
        severity: 'error',
        file: spec.file,
        message: 'the file cannot be read',
      },
    ]);
  }
  const watch = startWatch(request, before.size);
  const scan = await scanSource(file, { signal, onBytes: (done) => watch.tell(done, null) });
  const folder = sourceFolderName(scan.sha256, spec, zero);
  const earlier = await findEarlier(request, folder);
  if (earlier.outcome !== null) return earlier.outcome;
  const space = await checkSpace(request, scan.bytes);
  if (space !== null) return refuse([space]);
  watch.enter('head');
  const head = readHead(request, scan);
  if (head.read === null) return refuse(head.issues);
  const outcome = await importInto(request, head.read, folder, watch, before);
  return { ...outcome, issues: [...earlier.issues, ...outcome.issues] };
}
