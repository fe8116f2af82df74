/** The data package: record, session folder, cited columns, logs, README, hashes; one .zip. */
import { createWriteStream } from 'node:fs';
import { mkdir, rm, stat } from 'node:fs/promises';
import path from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { logCues } from '@/lib/core/debrief/package/log-cues';
import { manifestText } from '@/lib/core/debrief/package/manifest';
import { type PackageContents, packageReadme } from '@/lib/core/debrief/package/package-readme';
import type { SealedRecord } from '@/lib/core/debrief/record';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import { type ZipContent, zipContents } from '../../uploads/zip-folder';
import { citedColumns } from './cited-columns';
import { exportColumns } from './export-columns';
import type { PackageInputs } from './package-material';
import { hashOf, sessionFiles } from './packaged-session';

export type PackageRequest = Readonly<{
  sealed: SealedRecord;
  reconstruction: Reconstruction;
  samplesRoot: string;
  derivedFolder: string | null;
  /** Derived columns that the document's figures show. */
  shown: readonly string[];
  inputs: PackageInputs;
}>;

function logFiles({ events, sources }: Reconstruction): Map<string, ZipContent> {
  const logs = sources.filter(({ type }) => type === 'events');
  return new Map(
    logs.map(({ file }, index) => {
      const name = `logs/${index + 1}-${file.replace(/[^\w.-]+/g, '_').replace(/\.vtt$/, '')}.vtt`;
      return [name, { text: logCues(events.filter(({ source }) => source === file)) }];
    }),
  );
}

/**
 * Writes the package.
 *
 * @param work a folder for what is made on the way; it is gone afterwards
 * @param target where the .zip is written; what lies there is replaced
 */
export async function writePackage(
  request: PackageRequest,
  { work, target }: Readonly<{ work: string; target: string }>,
): Promise<void> {
  const { sealed, reconstruction, samplesRoot, inputs } = request;
  await mkdir(path.join(work, 'data'), { recursive: true });
  try {
    const cited = await citedColumns({ ...request, record: sealed.record }, inputs);
    const tables: PackageContents['tables'][number][] = [];
    for (const [index, each] of cited.entries()) {
      tables.push(await exportColumns(each, { folder: work, samplesRoot, index }));
    }
    const { files, leftOut } = await sessionFiles(inputs);
    for (const { file: name, csv } of tables) {
      for (const each of [name, csv].filter((one) => one !== null)) {
        const file = path.join(work, each);
        files.set(each, { file, bytes: (await stat(file)).size });
      }
    }
    const logs = logFiles(reconstruction);
    for (const [name, content] of logs) files.set(name, content);
    files.set('record.json', { text: sealed.json });
    const session = inputs.folder === null ? 'not there' : 'there';
    const contents = { tables, logs: [...logs.keys()], leftOut, session } as const;
    files.set('README.txt', { text: packageReadme(sealed.record, contents) });
    const entries = [];
    for (const [name, content] of files) entries.push({ name, sha256: await hashOf(content) });
    files.set('SHA256SUMS', { text: manifestText(entries) });
    await pipeline(Readable.from(zipContents(files)), createWriteStream(target));
  } finally {
    await rm(work, { recursive: true, force: true });
  }
}
