/**
 * A session's original files and what reading them yielded, kept under DATA_DIR/sessions/ID. When a
 * file is replaced the whole folder comes again as ID-2, ID-3; the ones before stay.
 */
import { mkdir, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import { crashPoint } from '../crash-point';
import { sessionsRoot } from '../data-folders';
import { renameDurably, syncToDisk, syncTree } from '../durable-files';
import { fromJson, toJson } from '../rows';
import type { StoredInput } from './stored-input';

/** One edition of a session's files, from 1; the database says which is the present one. */
export type SessionEdition = Readonly<{ id: string; filesNumber: number }>;

/** Name of an edition's folder under the sessions' root. */
export function editionName({ id, filesNumber }: SessionEdition): string {
  return filesNumber === 1 ? id : `${id}-${filesNumber}`;
}

/** The folder as it was imported, for exporting it again. */
export function originalFolder(edition: SessionEdition): string {
  return path.join(sessionsRoot(), editionName(edition), 'files');
}

/**
 * Moves the read folder to its place. Only after this the database may speak of the session; what
 * a crash leaves in between is swept at start.
 */
export async function placeSessionFiles(
  edition: SessionEdition,
  folder: string,
  input: StoredInput,
): Promise<void> {
  const work = edition.filesNumber === 1 ? 'import' : 'replace';
  const target = path.join(sessionsRoot(), editionName(edition));
  const part = `${target}.part`;
  await mkdir(part, { recursive: true });
  await rename(folder, path.join(part, 'files'));
  await writeFile(path.join(part, 'input.json'), toJson(input));
  await syncTree(part);
  crashPoint(`${work}:files-synced`);
  await renameDurably(part, target);
  await syncToDisk(path.dirname(sessionsRoot()));
  crashPoint(`${work}:files-renamed`);
}

const inputHead = z.looseObject({
  title: z.string(),
  zero: z.object({ taiNs: z.bigint() }),
  sources: z.array(z.looseObject({ type: z.enum(['telemetry', 'events']), file: z.string() })),
});

/** What reading the session's folder yielded, without the samples. */
export async function readStoredInput(edition: SessionEdition): Promise<StoredInput> {
  const file = path.join(sessionsRoot(), editionName(edition), 'input.json');
  const text = await readFile(file, 'utf8');
  const value = fromJson(text);
  inputHead.parse(value);
  return value as StoredInput;
}

/** Removes all editions of a session's files; nothing happens when they are gone. */
export async function removeSessionFiles(sessionId: string): Promise<void> {
  const names = await readdir(sessionsRoot());
  for (const name of names.filter((each) => each.split('-')[0] === sessionId))
    await rm(path.join(sessionsRoot(), name), { recursive: true, force: true });
}
