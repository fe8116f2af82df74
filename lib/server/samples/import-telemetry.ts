/**
 * A telemetry file into an immutable sample folder.
 *
 * Nothing is visible before the last rename; whatever stops an import, at most a temporary folder is
 * left, which `sweepTemporary` removes at the next start.
 */
import { mkdir, rm, stat } from 'node:fs/promises';
import { hasErrors, type Issue } from '@/lib/core/result';
import { columnsOf, samplePath } from './columns-of';
import { isSystemError, pathExists } from './durable-files';
import { type Filled, fillFolder, type ImportRequest } from './fill-folder';
import { sourceFolderName } from './folder-name';
import { checkSpace, manifestIssues } from './import-issues';
import { startWatch, type Watch } from './import-watch';
import { rejectIssues } from './reject-file';
import { IMPORTER_VERSION, type SampleManifest } from './sample-manifest';
import { makeTemporaryFolder, sealFolder } from './seal-folder';
import { readHead, type SourceHead } from './source-head';
import { type SourceScan, scanSource } from './source-scan';
import { verifyFolder } from './verify-folder';

/** What became of the file; the manifest without the hashes of the folder's own files. */
export type ImportReport = Omit<SampleManifest, 'files'> & Readonly<{ recognised: boolean }>;

/** `folder` is null when an issue of severity `error` stopped the import. */
export type ImportOutcome = Readonly<{
  folder: string | null;
  report: ImportReport | null;
  issues: readonly Issue[];
}>;

function refuse(issues: readonly Issue[]): ImportOutcome {
  return { folder: null, report: null, issues };
}

function reportOf(manifest: SampleManifest, sealed: 'renamed' | 'there'): ImportReport {
  const { files: _files, ...rest } = manifest;
  return { ...rest, recognised: sealed === 'there' };
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
  return { outcome: { folder, report: reportOf(manifest, 'there'), issues }, issues: [] };
}

function manifestOf(
  request: ImportRequest,
  scan: SourceScan,
  head: SourceHead,
  filled: Filled,
  watch: Watch,
): SampleManifest {
  const { data, extent, plan } = filled;
  return {
    format: 'wakeline/samples/1',
    importer: IMPORTER_VERSION,
    content: 'source',
    source: { file: request.spec.file, sha256: scan.sha256, bytes: scan.bytes },
    zeroTaiNs: String(request.zero.taiNs),
    dialect: {
      separator: head.dialect.separator,
      decimal: head.dialect.decimal,
      quote: head.dialect.quote,
      headerLine: head.dialect.headerLine,
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
  scan: SourceScan,
  head: SourceHead,
  folder: string,
  watch: Watch,
  before: Readonly<{ mtimeMs: number; size: number }>,
): Promise<ImportOutcome> {
  const issues = [...head.issues];
  const temporary = await makeTemporaryFolder(request.samplesRoot);
  try {
    const filled = await fillFolder(request, scan, head, temporary, watch, issues);
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
    const manifest = manifestOf(request, scan, head, filled, watch);
    const target = samplePath(request.samplesRoot, folder);
    const done = await sealFolder(temporary, target, manifest);
    const { data } = filled;
    const total = data.rowsRejected + manifest.cellsRejected;
    return {
      folder,
      report: reportOf(manifest, done),
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
  const space = await checkSpace(samplesRoot, spec.file, scan.bytes);
  if (space !== null) return refuse([space]);
  watch.enter('head');
  const read = readHead(spec, scan);
  if (read.head === null) return refuse(read.issues);
  const outcome = await importInto(request, scan, read.head, folder, watch, before);
  return { ...outcome, issues: [...earlier.issues, ...outcome.issues] };
}
