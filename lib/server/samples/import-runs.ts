/**
 * Simulator runs into one immutable sample folder.
 *
 * Runs that are written alike, as a simulator writes them, are read in one statement; the others, and
 * those of which something did not read, go one by one through the reader of telemetry.
 */
import { mkdir, rm } from 'node:fs/promises';
import path from 'node:path';
import type { DuckDBConnection } from '@duckdb/node-api';
import { hasErrors, type Issue } from '@/lib/core/result';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import type { Instant } from '@/lib/core/time/instant';
import { columnsOf, samplePath } from './columns-of';
import { pathExists } from './durable-files';
import { withImportEngine } from './engine';
import { sourceFolderName } from './folder-name';
import { checkSpace } from './import-issues';
import { importTelemetry } from './import-telemetry';
import { areAlike, hashOfRuns, type LookedRun, lookAtRuns, runLeftOut } from './look-at-runs';
import { type NumberedRun, readAlikeRuns } from './read-alike-runs';
import type { SampleManifest } from './sample-manifest';
import { DATA_FILE, makeTemporaryFolder, sealFile, sealFolder } from './seal-folder';
import type { SourcePart } from './unpack-source';
import { verifyFolder } from './verify-folder';
import { runsManifest, type SingleRun, writeRuns } from './write-runs';

export type RunsRequest = Readonly<{
  parts: readonly SourcePart[];
  /** How the runs are described; `file` is the pattern by which they are named. */
  spec: TelemetrySpec;
  zero: Instant;
  samplesRoot: string;
  threads?: number;
  signal?: AbortSignal;
  onBytes?: (bytesDone: number) => void;
}>;

/** `folder` is null when no run could be read. */
export type RunsOutcome = Readonly<{
  folder: string | null;
  manifest: SampleManifest | null;
  issues: readonly Issue[];
}>;

const DEFAULT_THREADS = 2;

type Reading = Readonly<{
  request: RunsRequest;
  temporary: string;
  connection: DuckDBConnection;
  issues: Issue[];
}>;

/** One run through the reader of telemetry, which says what is wrong with it. */
async function readSingle(
  { request, temporary, issues }: Reading,
  run: LookedRun,
  number: number,
): Promise<SingleRun | null> {
  const root = path.join(temporary, 'single');
  const { signal } = request;
  const outcome = await importTelemetry({
    parts: [run],
    spec: run.spec,
    zero: request.zero,
    samplesRoot: root,
    original: 'leave',
    ...(signal === undefined ? {} : { signal }),
  });
  const { folder, report } = outcome;
  if (folder === null || report === null) {
    const fault = outcome.issues.find(({ severity }) => severity === 'error');
    issues.push(runLeftOut(run.name, fault));
    return null;
  }
  issues.push(...outcome.issues);
  return { number, file: path.join(samplePath(root, folder), DATA_FILE), report };
}

function isAlike(run: LookedRun & Readonly<{ number: number }>, first: LookedRun): boolean {
  return run.head !== null && first.head !== null && areAlike(run.head, first.head);
}

/** Reads every run and writes the data file; null where none could be read. */
async function fill(reading: Reading, looked: readonly LookedRun[], sha256: string) {
  const { request, temporary, connection } = reading;
  const numbered = looked.map((run, number) => ({ ...run, number }));
  const first = looked.find(({ head }) => head !== null);
  const alike =
    first === undefined ? [] : numbered.filter((run): run is NumberedRun => isAlike(run, first));
  const quick = await readAlikeRuns(alike, {
    connection,
    zero: request.zero,
    file: path.join(temporary, 'quick.parquet'),
  });
  const done = new Set(quick === null ? [] : alike.map(({ number }) => number));
  const singles: SingleRun[] = [];
  for (const run of numbered) {
    request.signal?.throwIfAborted();
    if (done.has(run.number) && quick?.doubtful.has(run.number) === false) continue;
    const single = await readSingle(reading, run, run.number);
    if (single !== null) singles.push(single);
  }
  if (quick === null && singles.length === 0) return null;
  const written = { connection, temporary, spec: request.spec, quick, singles };
  const channels = await writeRuns(written);
  await rm(path.join(temporary, 'quick.parquet'), { force: true });
  for (const name of ['single', 'spill', 'lod'])
    await rm(path.join(temporary, name), { recursive: true, force: true });
  const data = await sealFile(temporary, DATA_FILE, 'samples:data-written');
  const manifest = await runsManifest({ ...written, channels, runs: looked, sha256, data });
  return { ...manifest, zeroTaiNs: String(request.zero.taiNs) };
}

/** The folder of an earlier import of the same runs, when it is there and whole. */
async function findEarlier(samplesRoot: string, folder: string): Promise<SampleManifest | null> {
  const place = samplePath(samplesRoot, folder);
  if (!(await pathExists(place))) return null;
  if (!hasErrors(await verifyFolder(samplesRoot, folder))) return columnsOf(samplesRoot, folder);
  await rm(place, { recursive: true, force: true });
  return null;
}

/** What the first import said of runs: which it left out, and how many rows of others it could not use. */
function saidBefore({ runs = [] }: SampleManifest, looked: readonly LookedRun[]): readonly Issue[] {
  const kept = new Set(runs.map(({ name }) => name));
  return [
    ...looked.flatMap(({ name }) => (kept.has(name) ? [] : [runLeftOut(name, undefined)])),
    ...runs.flatMap(({ name, rowsRead, rowsRejected }): Issue[] =>
      rowsRejected === 0
        ? []
        : [
            {
              code: 'rejects',
              severity: 'warning',
              file: name,
              message: `${rowsRejected} of ${rowsRead} rows could not be used`,
            },
          ],
    ),
  ];
}

/**
 * Imports the runs of a session. The same runs read the same way twice give the same folder. A run
 * that cannot be read is left out with a warning; an abort and a failing disk are thrown.
 */
export async function importRuns(request: RunsRequest): Promise<RunsOutcome> {
  const { parts, spec, zero, samplesRoot, signal } = request;
  signal?.throwIfAborted();
  await mkdir(samplesRoot, { recursive: true });
  const onBytes = request.onBytes ?? (() => undefined);
  const { runs, issues: said } = await lookAtRuns(parts, spec, { signal, onBytes });
  const issues = [...said];
  if (runs.length === 0) return { folder: null, manifest: null, issues };
  const sha256 = hashOfRuns(runs);
  const folder = sourceFolderName(sha256, spec, zero);
  const earlier = await findEarlier(samplesRoot, folder);
  if (earlier !== null) {
    return { folder, manifest: earlier, issues: [...issues, ...saidBefore(earlier, runs)] };
  }
  const bytes = runs.reduce((sum, { scan }) => sum + scan.bytes, 0);
  const space = await checkSpace(samplesRoot, spec.file, bytes);
  if (space !== null) return { folder: null, manifest: null, issues: [...issues, space] };
  const temporary = await makeTemporaryFolder(samplesRoot);
  try {
    const manifest = await withImportEngine(
      {
        threads: request.threads ?? DEFAULT_THREADS,
        folder: temporary,
        sourceFile: path.join(temporary, DATA_FILE),
        moreFiles: runs.map(({ file }) => path.resolve(file)),
        signal,
      },
      (connection) => fill({ request, temporary, connection, issues }, runs, sha256),
    );
    if (manifest === null) return { folder: null, manifest: null, issues };
    await sealFolder(temporary, samplePath(samplesRoot, folder), manifest);
    return { folder, manifest, issues };
  } finally {
    await rm(temporary, { recursive: true, force: true });
  }
}
