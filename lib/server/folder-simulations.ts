/** The simulator runs of a session folder, through the sample store. */
import { mkdir, rm } from 'node:fs/promises';
import type { Issue } from '@/lib/core/result';
import type { SessionFile, TelemetrySpec } from '@/lib/core/session/session-file';
import type { SimulationSet } from '@/lib/core/session/session-input';
import { type ExpandedRuns, expandRuns } from './expand-runs';
import type { Gathered } from './folder-reading';
import { importRuns } from './samples/import-runs';
import { readRuns } from './samples/read-runs';
import { makeTemporaryFolder } from './samples/seal-folder';
import { findSourceFiles, MOST_RUNS } from './source-files';

/** The runs with the folder under the samples root that holds them. */
export type FolderSimulations = Readonly<{ set: SimulationSet; folder: string }>;

/** The description that the runs share: that of the source they are like, under the runs' own name. */
export function runsSpec(session: SessionFile): TelemetrySpec | null {
  const { simulations } = session;
  if (simulations === null) return null;
  const like = session.sources.find(
    (spec): spec is TelemetrySpec => spec.type === 'telemetry' && spec.file === simulations.like,
  );
  return like === undefined ? null : { ...like, file: simulations.files, files: [] };
}

function softened(issue: Issue): Issue {
  return issue.severity === 'error' ? { ...issue, severity: 'warning' } : issue;
}

/** What the runs are read from: as found, and unpacked where they came together. */
type FoundRuns = Readonly<{
  spec: TelemetrySpec;
  simulations: NonNullable<SessionFile['simulations']>;
  expanded: ExpandedRuns;
}>;

async function importFound(
  gathered: Gathered,
  session: SessionFile,
  { spec, simulations, expanded }: FoundRuns,
): Promise<FolderSimulations | null> {
  const { files, like, about } = simulations;
  const { samplesRoot, threads, signal, onProgress } = gathered.options;
  const outcome = await importRuns({
    parts: expanded.parts,
    spec,
    zero: session.zero,
    samplesRoot,
    ...(threads === undefined ? {} : { threads }),
    ...(signal === undefined ? {} : { signal }),
    ...(onProgress === undefined
      ? {}
      : {
          onBytes: (bytesDone: number) =>
            onProgress({ stage: 'data', file: files, bytesDone, bytesTotal: 0, rowsDone: null }),
        }),
  });
  gathered.issues.push(...outcome.issues.map(softened));
  const { folder, manifest } = outcome;
  if (folder === null || manifest === null) return null;
  // A run out of a container is no file of the folder: the container is.
  const inside = (name: string): boolean =>
    expanded.containers.some(
      (each) => /^(?:\/|, run )/.test(name.slice(each.name.length)) && name.startsWith(each.name),
    );
  gathered.files.push(...expanded.containers);
  for (const { name, sha256, bytes } of manifest.runs ?? [])
    if (!inside(name)) gathered.files.push({ name, sha256, bytes });
  const { sha256 = '' } = manifest.source ?? {};
  return {
    set: { files, like, sha256, about, runs: await readRuns(samplesRoot, folder, spec) },
    folder,
  };
}

/**
 * Reads the runs that session.yaml names: files, a .zip of them, or one Parquet file with a column of
 * runs. Runs that are missing or cannot be read are warnings: what was flown is reconstructed without
 * them.
 */
export async function readSimulations(
  gathered: Gathered,
  session: SessionFile,
): Promise<FolderSimulations | null> {
  const spec = runsSpec(session);
  const { simulations } = session;
  if (spec === null || simulations === null) return null;
  const { samplesRoot, signal } = gathered.options;
  const found = await findSourceFiles(gathered.folder, [simulations.files], MOST_RUNS);
  gathered.issues.push(...found.issues.map(softened));
  if (found.parts.length === 0) return null;
  await mkdir(samplesRoot, { recursive: true });
  const unpacked = await makeTemporaryFolder(samplesRoot);
  try {
    const { runColumn } = simulations;
    const expanded = await expandRuns(found.parts, { spec, runColumn, folder: unpacked, signal });
    gathered.issues.push(...expanded.issues);
    if (expanded.parts.length === 0) return null;
    return await importFound(gathered, session, { spec, simulations, expanded });
  } finally {
    await rm(unpacked, { recursive: true, force: true });
  }
}
