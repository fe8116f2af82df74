/** The simulator runs of a session folder, through the sample store. */
import type { Issue } from '@/lib/core/result';
import type { SessionFile, TelemetrySpec } from '@/lib/core/session/session-file';
import type { SimulationSet } from '@/lib/core/session/session-input';
import type { Gathered } from './folder-reading';
import { importRuns } from './samples/import-runs';
import { readRuns } from './samples/read-runs';
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

/**
 * Reads the runs that session.yaml names. Runs that are missing or cannot be read are warnings: what was
 * flown is reconstructed without them.
 */
export async function readSimulations(
  gathered: Gathered,
  session: SessionFile,
): Promise<FolderSimulations | null> {
  const spec = runsSpec(session);
  if (spec === null || session.simulations === null) return null;
  const { files, like, about } = session.simulations;
  const { samplesRoot, threads, signal, onProgress } = gathered.options;
  const found = await findSourceFiles(gathered.folder, [files], MOST_RUNS);
  gathered.issues.push(...found.issues.map(softened));
  if (found.parts.length === 0) return null;
  const outcome = await importRuns({
    parts: found.parts,
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
  for (const { name, sha256, bytes } of manifest.runs ?? [])
    gathered.files.push({ name, sha256, bytes });
  const { sha256 = '' } = manifest.source ?? {};
  return {
    set: { files, like, sha256, about, runs: await readRuns(samplesRoot, folder, spec) },
    folder,
  };
}
