/**
 * A telemetry file into an immutable sample folder.
 *
 * Nothing is visible before the last rename; whatever stops an import, at most a temporary folder is
 * left, which `sweepTemporary` removes at the next start.
 */
import { createHash } from 'node:crypto';
import { mkdir, rm, stat } from 'node:fs/promises';
import { hasErrors, type Issue } from '@/lib/core/result';
import { columnsOf, samplePath } from './columns-of';
import { isSystemError, pathExists } from './durable-files';
import { type Filled, fillFolder, type ImportRequest, type Prepared } from './fill-folder';
import { sourceFolderName } from './folder-name';
import { checkSpace, manifestIssues } from './import-issues';
import { startWatch, type Watch } from './import-watch';
import { joinParts } from './join-parts';
import { keepOriginals } from './keep-originals';
import { rejectIssues } from './reject-file';
import { IMPORTER_VERSION, type SampleManifest } from './sample-manifest';
import { makeTemporaryFolder, sealFolder } from './seal-folder';
import { scanSource } from './source-scan';
import type { ScannedPart, SourcePart } from './unpack-source';
import { verifyFolder } from './verify-folder';

/** What became of the file; the manifest without the hashes of the folder's own files. */
export type ImportReport = Omit<SampleManifest, 'files'> & Readonly<{ recognised: boolean }>;

/** `folder` is null when an issue of severity `error` stopped the import. */
export type ImportOutcome = Readonly<{
  folder: string | null;
  report: ImportReport | null;
  issues: readonly Issue[];
}>;

const DEFAULT_THREADS = 2;

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
  const issues = manifestIssues(manifest, request.spec);
  return { outcome: { folder, report: reportOf(manifest, 'there'), issues }, issues: [] };
}

function manifestOf(
  request: ImportRequest,
  { head }: Prepared,
  { parts, sha256, bytes }: Looked,
  filled: Filled,
  watch: Watch,
): SampleManifest {
  const { data, extent, plan } = filled;
  return {
    format: 'wakeline/samples/1',
    importer: IMPORTER_VERSION,
    content: 'source',
    source: { file: request.spec.file, sha256, bytes },
    parts: parts.map(({ name, scan }) => ({ name, sha256: scan.sha256, bytes: scan.bytes })),
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
    ...(data.dayTurns === undefined ? {} : { dayTurns: [...data.dayTurns] }),
    ...(filled.dayResolution === null ? {} : { dayResolution: filled.dayResolution }),
    ...(filled.dateOrder === null ? {} : { dateOrder: filled.dateOrder }),
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

/** A file of the source with what tells whether it changes while it is read. */
type FoundPart = SourcePart & Readonly<{ size: number; mtimeMs: number }>;

/** A source looked at before anything is written: its files, their scans and one hash of all. */
type Looked = Readonly<{
  parts: readonly (FoundPart & ScannedPart)[];
  sha256: string;
  bytes: number;
}>;

async function importInto(
  request: ImportRequest,
  looked: Looked,
  folder: string,
  watch: Watch,
): Promise<ImportOutcome> {
  const { parts, sha256 } = looked;
  const temporary = await makeTemporaryFolder(request.samplesRoot);
  try {
    watch.enter('head');
    const threads = request.threads ?? DEFAULT_THREADS;
    const how = { folder: temporary, label: 'text', threads, signal: request.signal };
    const { source, head, issues: found } = await joinParts(parts, request, how);
    const issues = [...found];
    if (source === null || head === null) return refuse(issues);
    const originals = await keepOriginals(parts, temporary, request.original ?? 'copy');
    const prepared = { source, head, sha256, temporary };
    const read = await fillFolder(request, prepared, watch, issues);
    if (read === null) return refuse(issues);
    const filled = { ...read, files: [...originals, ...read.files] };
    for (const part of parts) {
      const after = await stat(part.file);
      if (after.size === part.size && after.mtimeMs === part.mtimeMs) continue;
      const message =
        'the file changed while it was read; import it again when nothing writes to it';
      const changed: Issue = { code: 'file-changed', severity: 'error', file: part.name, message };
      return refuse([...issues, changed]);
    }
    request.signal?.throwIfAborted();
    watch.leave();
    const manifest = manifestOf(request, prepared, looked, filled, watch);
    const target = samplePath(request.samplesRoot, folder);
    const done = await sealFolder(temporary, target, manifest);
    const { data } = filled;
    const total = data.rowsRejected + manifest.cellsRejected;
    return {
      folder,
      report: reportOf(manifest, done),
      issues: [
        ...issues,
        ...manifestIssues(manifest, request.spec),
        ...rejectIssues(request.spec, data.rejects, total),
      ],
    };
  } finally {
    await rm(temporary, { recursive: true, force: true });
  }
}

async function findPart(part: SourcePart): Promise<FoundPart | null> {
  try {
    const { size, mtimeMs } = await stat(part.file);
    return { ...part, size, mtimeMs };
  } catch (error) {
    if (!isSystemError(error, ['ENOENT', 'ENOTDIR', 'EACCES'])) throw error;
    return null;
  }
}

/** Reads every file once. The hash of several is that of the list of their hashes and names. */
async function lookAt(
  there: readonly FoundPart[],
  watch: Watch,
  signal: AbortSignal | undefined,
): Promise<Looked> {
  const parts: (FoundPart & ScannedPart)[] = [];
  let before = 0;
  for (const part of there) {
    const onBytes = (done: number) => watch.tell(before + done, null);
    parts.push({ ...part, scan: await scanSource(part.file, { signal, onBytes }) });
    before += part.size;
  }
  const [only] = parts;
  const list = parts.map(({ scan, name }) => `${scan.sha256}  ${name}\n`).join('');
  const sha256 =
    parts.length === 1 && only !== undefined
      ? only.scan.sha256
      : createHash('sha256').update(list).digest('hex');
  return { parts, sha256, bytes: parts.reduce((sum, { scan }) => sum + scan.bytes, 0) };
}

/**
 * Imports one telemetry source. The same file read the same way twice gives the same folder and no
 * second import. What is wrong with the file is an issue; an abort and a failing disk are thrown.
 */
export async function importTelemetry(request: ImportRequest): Promise<ImportOutcome> {
  const { parts, spec, zero, samplesRoot, signal } = request;
  signal?.throwIfAborted();
  await mkdir(samplesRoot, { recursive: true });
  const there: FoundPart[] = [];
  for (const part of parts) {
    const found = await findPart(part);
    if (found === null) {
      const message = 'the file cannot be read';
      return refuse([{ code: 'file-missing', severity: 'error', file: part.name, message }]);
    }
    there.push(found);
  }
  const watch = startWatch(
    request,
    there.reduce((sum, part) => sum + part.size, 0),
  );
  const looked = await lookAt(there, watch, signal);
  const folder = sourceFolderName(looked.sha256, spec, zero);
  const earlier = await findEarlier(request, folder);
  if (earlier.outcome !== null) return earlier.outcome;
  const space = await checkSpace(samplesRoot, spec.file, looked.bytes);
  if (space !== null) return refuse([space]);
  const outcome = await importInto(request, looked, folder, watch);
  return { ...outcome, issues: [...earlier.issues, ...outcome.issues] };
}
