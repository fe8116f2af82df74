/** Simulator runs out of what they come in: a .zip of them, or one Parquet file with a column of runs. */

import { mkdir, open, readdir } from 'node:fs/promises';
import path from 'node:path';
import type { Issue } from '@/lib/core/result';
import { naturalOrder } from '@/lib/core/session/natural-order';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import { hashFile } from './samples/durable-files';
import { splitRuns } from './samples/split-runs';
import type { SourcePart } from './samples/unpack-source';
import { unzip } from './uploads/unzip';

export type ExpandRequest = Readonly<{
  spec: TelemetrySpec;
  /** The column that names the run in a Parquet file of many; null where each file is one run. */
  runColumn: string | null;
  /** A folder of one's own, removed by the caller. */
  folder: string;
  signal: AbortSignal | undefined;
}>;

/** `containers` are the files that held several runs, with their hashes. */
export type ExpandedRuns = Readonly<{
  parts: readonly SourcePart[];
  containers: readonly Readonly<{ name: string; sha256: string; bytes: number }>[];
  issues: readonly Issue[];
}>;

async function markOf(file: string): Promise<string> {
  const handle = await open(file, 'r');
  try {
    const mark = Buffer.alloc(4);
    await handle.read(mark, 0, 4, 0);
    return mark.toString('latin1');
  } finally {
    await handle.close();
  }
}

async function unzipped(part: SourcePart, into: string, signal: AbortSignal | undefined) {
  const said = await unzip({
    file: part.file,
    into,
    ...(signal === undefined ? {} : { signal }),
  });
  const issues = said.map((issue): Issue => ({ ...issue, severity: 'warning', file: part.name }));
  if (issues.length > 0) return { parts: [], issues };
  const names = await readdir(into, { recursive: true, withFileTypes: true });
  const parts = names
    .filter((entry) => entry.isFile())
    .map((entry) => path.relative(into, path.join(entry.parentPath, entry.name)))
    .sort(naturalOrder)
    .map((name) => ({ name: `${part.name}/${name}`, file: path.join(into, name) }));
  return { parts, issues: [] };
}

/** Files as they are, and the runs inside those that hold several. */
export async function expandRuns(
  found: readonly SourcePart[],
  { spec, runColumn, folder, signal }: ExpandRequest,
): Promise<ExpandedRuns> {
  const parts: SourcePart[] = [];
  const containers: { name: string; sha256: string; bytes: number }[] = [];
  const issues: Issue[] = [];
  for (const [index, part] of found.entries()) {
    signal?.throwIfAborted();
    const mark = await markOf(part.file);
    const isSplit = mark === 'PAR1' && runColumn !== null;
    if (!isSplit && mark !== 'PK\u0003\u0004') {
      parts.push(part);
      continue;
    }
    const into = path.join(folder, String(index));
    await mkdir(into, { recursive: true });
    const inside = isSplit
      ? await splitRuns(part, { spec, runColumn, folder: into, signal })
      : await unzipped(part, into, signal);
    parts.push(...inside.parts);
    issues.push(...inside.issues);
    containers.push({ name: part.name, ...(await hashFile(part.file)) });
  }
  return { parts, containers, issues };
}
