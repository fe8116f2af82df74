/** What was seen in an upload that came without a session.yaml, kept beside its files. */
import { readFile, stat, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import type { FileSketch } from '@/lib/core/intake/proposal/file-sketch';
import type { Issue } from '@/lib/core/result';
import { listFiles, syncToDisk } from '../durable-files';
import { isSystemFile } from '../safe-path';
import { isSystemError } from '../samples/durable-files';
import { isUploadId, uploadFolder } from './receive-file';
import { sketchFile } from './sketch-file';

/** Folders of an upload that files to be described may lie in: as sent, or unpacked. */
const PLACES = ['files', 'unpacked'] as const;
export type UploadPlace = (typeof PLACES)[number];

export type UploadSketch = Readonly<{ place: UploadPlace; files: readonly FileSketch[] }>;

const SKETCH_FILE = 'sketch.json';
/** More files than this are no loose files of one session. */
const MOST_FILES = 60;

const strings = z.array(z.string());
const tableSchema = z.object({
  columns: strings,
  cells: z.array(strings),
  units: strings.nullable(),
  blocks: z.array(z.number()),
  decimal: z.enum(['.', ',']),
  lines: z.array(z.number()),
});
const sketchSchema: z.ZodType<UploadSketch> = z.object({
  place: z.enum(PLACES),
  files: z.array(
    z.object({
      file: z.string(),
      bytes: z.number(),
      said: z.string(),
      kind: z.enum(['table', 'log', 'plan', 'rules', 'ephemeris', 'other']),
      table: tableSchema.nullable(),
      ownTimes: z.boolean(),
      lines: strings,
      spokenRanges: z.number(),
      instead: z.string().nullable(),
    }),
  ),
});

/** Folder with the files of an upload that a description is about. */
export function describedFolder(uploadId: string, place: UploadPlace): string {
  return path.join(uploadFolder(uploadId), place);
}

function tooMany(count: number): Issue {
  return {
    code: 'too-many-loose-files',
    severity: 'error',
    message: `${count} files came without a session.yaml: at most ${MOST_FILES} can be described by hand. Write a session.yaml beside them, or send those that matter.`,
    expected: `at most ${MOST_FILES} files`,
    received: `${count}`,
  };
}

/** A file from which nothing is read: what it is and what to do instead. */
function uselessIssue({ file, said, instead }: FileSketch): Issue[] {
  if (instead === null) return [];
  const message = `is ${said}, so nothing can be read from it: ${instead}.`;
  const wanted = 'a table of samples or a log';
  return [
    { code: 'file-useless', severity: 'error', file, message, expected: wanted, received: said },
  ];
}

/**
 * Looks at the files of an upload and keeps what it saw.
 *
 * @param upload the upload's own folder
 * @returns null when it can be described; what stands in the way where no file could be telemetry
 *   or a log, by file
 */
export async function sketchUpload(
  upload: string,
  place: UploadPlace,
): Promise<readonly Issue[] | null> {
  const folder = path.join(upload, place);
  const names = (await listFiles(folder)).filter((name) => !isSystemFile(name)).sort();
  if (names.length > MOST_FILES) return [tooMany(names.length)];
  const files: FileSketch[] = [];
  for (const name of names) files.push(await sketchFile(folder, name));
  if (!files.some(({ kind, table }) => table !== null || kind === 'log')) {
    return files.flatMap(uselessIssue);
  }
  const sketch: UploadSketch = { place, files };
  const kept = path.join(upload, SKETCH_FILE);
  await writeFile(kept, JSON.stringify(sketch));
  await syncToDisk(kept);
  return null;
}

/** @returns null when there is no such upload, or nothing in it is to be described */
export async function readUploadSketch(uploadId: string): Promise<UploadSketch | null> {
  if (!isUploadId(uploadId)) return null;
  try {
    const text = await readFile(path.join(uploadFolder(uploadId), SKETCH_FILE), 'utf8');
    // One kept by an earlier version is as none: the files are sent again.
    return sketchSchema.safeParse(JSON.parse(text)).data ?? null;
  } catch (error) {
    if (isSystemError(error, ['ENOENT', 'ENOTDIR'])) return null;
    throw error;
  }
}

/** The place in which the files of an upload were described already; null where none were. */
export async function describedPlace(upload: string): Promise<UploadPlace | null> {
  for (const place of PLACES) {
    const found = await stat(path.join(upload, SKETCH_FILE)).catch(() => null);
    const session = await stat(path.join(upload, place, 'session.yaml')).catch(() => null);
    if (found !== null && session !== null) return place;
  }
  return null;
}
