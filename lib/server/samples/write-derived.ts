import { createHash } from 'node:crypto';
import { mkdir, rm } from 'node:fs/promises';
import path from 'node:path';
import type { CompareTracks } from '@/lib/core/reconstruction/compare-tracks';
import type { PairDifferences } from '@/lib/core/reconstruction/navigation-report';
import type { DerivedColumns } from '@/lib/core/reconstruction/reconstruction';
import { hasErrors, invariant } from '@/lib/core/result';
import { type PlannedChannel, planStoredNames, TIME_COLUMN } from './column-plan';
import { samplePath } from './columns-of';
import { parquetOptions } from './data-pass';
import { DIFFERENCES_FILE, differencesHash, writeDifferences } from './difference-file';
import { appendDoubles } from './double-chunks';
import { pathExists } from './durable-files';
import { withImportEngine } from './engine';
import { derivedFolderName } from './folder-name';
import { levelFile, writeLevels } from './level-files';
import {
  IMPORTER_VERSION,
  LEVEL_ROWS,
  type SampleFile,
  type SampleManifest,
} from './sample-manifest';
import { DATA_FILE, makeTemporaryFolder, sealFile, sealFolder } from './seal-folder';
import { sqlName, sqlText } from './sql-text';
import { TRACKS_FILE, TRACKS_INDEX, tracksHash, writeTracks } from './track-file';
import { verifyFolder } from './verify-folder';

type KeptBeside = Readonly<{
  tracks: CompareTracks | null;
  differences: readonly PairDifferences[];
}>;

/** Hash of names, units and every number: the same columns always give the same folder. */
function contentHash(derived: DerivedColumns, { tracks, differences }: KeptBeside): string {
  const hash = createHash('sha256');
  hash.update(JSON.stringify(derived.columns.map(({ name, label, unit }) => [name, label, unit])));
  for (const numbers of [derived.tS, ...derived.columns.map((column) => column.values)]) {
    hash.update(new Uint8Array(numbers.buffer, numbers.byteOffset, numbers.byteLength));
  }
  if (tracks !== null) hash.update(tracksHash(tracks));
  if (differences.length > 0) hash.update(differencesHash(differences));
  return hash.digest('hex');
}

function planOf(derived: DerivedColumns): readonly PlannedChannel[] {
  const store = planStoredNames();
  return derived.columns.map(({ name, unit }, index) => ({
    index,
    name,
    stored: store(name),
    as: name,
    unit,
    sourceUnit: null,
    mapped: true,
    factor: 1,
    missing: [],
  }));
}

async function fill(
  temporary: string,
  derived: DerivedColumns,
  { tracks, differences }: KeptBeside,
): Promise<Readonly<{ manifest: SampleManifest }>> {
  const plan = planOf(derived);
  const stored = plan.map((channel) => channel.stored);
  const dataFile = path.join(temporary, DATA_FILE);
  const request = { threads: 1, folder: temporary, sourceFile: dataFile, signal: undefined };
  return withImportEngine(request, async (connection) => {
    const columns = [TIME_COLUMN, ...stored].map((name) => `${sqlName(name)} DOUBLE`).join(', ');
    await connection.run(`CREATE TEMP TABLE derived (${columns})`);
    const appender = await connection.createAppender('derived');
    appendDoubles(appender, [derived.tS, ...derived.columns.map((column) => column.values)]);
    appender.closeSync();
    const metadata = JSON.stringify({
      format: 'wakeline/samples/1',
      importer: IMPORTER_VERSION,
      time: { column: TIME_COLUMN, unit: 's', from: 'session zero, session time' },
      channels: derived.columns.map(({ name, label, unit }, index) => ({
        column: stored[index],
        name,
        label,
        unit,
      })),
    });
    await connection.run(
      `COPY (SELECT * FROM derived) TO ${sqlText(dataFile)} ${parquetOptions(metadata)}`,
    );
    const levels = { connection, folder: temporary, dataFile, stored };
    const extent = await writeLevels(levels, derived.tS.length);
    invariant(extent.rows === derived.tS.length, 'derived rows were lost');
    const files: SampleFile[] = [];
    await rm(path.join(temporary, 'spill'), { recursive: true, force: true });
    files.push(await sealFile(temporary, DATA_FILE, 'samples:data-written'));
    for (const level of LEVEL_ROWS) {
      files.push(await sealFile(temporary, levelFile(level), 'samples:levels-written'));
    }
    if (tracks !== null) {
      await writeTracks(temporary, tracks);
      for (const name of [TRACKS_FILE, TRACKS_INDEX])
        files.push(await sealFile(temporary, name, 'samples:data-written'));
    }
    if (differences.length > 0) {
      await writeDifferences(temporary, differences);
      files.push(await sealFile(temporary, DIFFERENCES_FILE, 'samples:data-written'));
    }
    return {
      manifest: {
        format: 'wakeline/samples/1',
        importer: IMPORTER_VERSION,
        content: 'derived',
        source: null,
        parts: [],
        zeroTaiNs: null,
        dialect: null,
        rows: extent.rows,
        rowsRead: extent.rows,
        rowsRejected: 0,
        cellsRejected: 0,
        rowsOutOfOrder: 0,
        stampFaults: [],
        fromS: extent.fromS,
        toS: extent.toS,
        channels: plan.map(({ name, stored, as, unit, sourceUnit, mapped }, index) => ({
          name,
          stored,
          as,
          unit,
          sourceUnit,
          mapped,
          notFinite: 0,
          rejectedCells: 0,
          ...(extent.channels[index] ?? { samples: 0, min: null, max: null }),
        })),
        textColumns: [],
        files,
        stageSeconds: {},
      },
    };
  });
}

/**
 * Keeps columns that were computed, in the layout of an imported source.
 *
 * @param beside what is kept beside them: flight and runs of a comparison, differences between ranges
 * @returns the folder's name under `samplesRoot`; the same columns twice give the same folder
 */
export async function writeDerived(
  samplesRoot: string,
  derived: DerivedColumns,
  beside: Partial<KeptBeside> = {},
): Promise<string> {
  const kept = { tracks: null, differences: [], ...beside };
  await mkdir(samplesRoot, { recursive: true });
  const folder = derivedFolderName(contentHash(derived, kept));
  const target = samplePath(samplesRoot, folder);
  if (await pathExists(target)) {
    if (!hasErrors(await verifyFolder(samplesRoot, folder))) return folder;
    await rm(target, { recursive: true, force: true });
  }
  const temporary = await makeTemporaryFolder(samplesRoot);
  try {
    const { manifest } = await fill(temporary, derived, kept);
    await sealFolder(temporary, target, manifest);
    return folder;
  } finally {
    await rm(temporary, { recursive: true, force: true });
  }
}
