/** What every reading of a folder needs first, kept in memory: manifest and the coarse level's times. */
import path from 'node:path';
import { columnsOf, samplePath } from './columns-of';
import { readDoubles } from './double-chunks';
import { withConnection } from './engine';
import { levelFile } from './level-files';
import { COARSEST_LEVEL, type LevelRows, type SampleManifest } from './sample-manifest';
import { DATA_FILE } from './seal-folder';
import { sqlText } from './sql-text';

export type FolderIndex = Readonly<{
  manifest: SampleManifest;
  /** Start and end of every 4,096 rows. */
  t0: Float64Array;
  t1: Float64Array;
}>;

const MOST_KEPT = 64;
const kept = new Map<string, Promise<FolderIndex>>();

/** A `read_parquet(...)` of one of the folder's files; `1` is the data itself. */
export function folderTable(
  samplesRoot: string,
  folder: string,
  rowsPerBin: 1 | LevelRows,
): string {
  const name = rowsPerBin === 1 ? DATA_FILE : levelFile(rowsPerBin);
  return `read_parquet(${sqlText(path.resolve(samplePath(samplesRoot, folder), name))})`;
}

async function load(samplesRoot: string, folder: string): Promise<FolderIndex> {
  const manifest = await columnsOf(samplesRoot, folder);
  const table = folderTable(samplesRoot, folder, COARSEST_LEVEL);
  const [t0, t1] = await withConnection(samplesRoot, (connection) =>
    readDoubles(
      connection,
      `SELECT t0, t1 FROM ${table}`,
      Math.ceil(manifest.rows / COARSEST_LEVEL),
    ),
  );
  return { manifest, t0: t0 ?? new Float64Array(0), t1: t1 ?? new Float64Array(0) };
}

/** Folders never change, so what was read once stays true; the longest unused is forgotten first. */
export function folderIndex(samplesRoot: string, folder: string): Promise<FolderIndex> {
  const key = path.resolve(samplesRoot, folder);
  const found = kept.get(key) ?? load(samplesRoot, folder);
  kept.delete(key);
  kept.set(key, found);
  found.catch(() => kept.delete(key));
  const oldest = kept.keys().next();
  if (kept.size > MOST_KEPT && oldest.done !== true) kept.delete(oldest.value);
  return found;
}

/** Rows in a window, from the coarse level: right to a few thousand. */
export function estimateRows(index: FolderIndex, fromS: number, toS: number): number {
  let rows = 0;
  const { rows: total } = index.manifest;
  for (let bin = 0; bin < index.t0.length; bin += 1) {
    const start = index.t0[bin] ?? 0;
    const end = index.t1[bin] ?? 0;
    if (end < fromS || start > toS) continue;
    const held = Math.min(COARSEST_LEVEL, total - COARSEST_LEVEL * bin);
    const shared = Math.min(end, toS) - Math.max(start, fromS);
    rows += end > start ? held * (shared / (end - start)) : held;
  }
  return rows;
}
