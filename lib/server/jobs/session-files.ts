/** A session's original files and what reading them yielded, kept under DATA_DIR/sessions/ID. */
import { mkdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import { crashPoint } from '../crash-point';
import { sessionsRoot } from '../data-folders';
import { renameDurably, syncToDisk, syncTree } from '../durable-files';
import { fromJson, toJson } from '../rows';
import type { StoredInput } from './stored-input';

/** The folder as it was imported, for exporting it again. */
export function originalFolder(sessionId: string): string {
  return path.join(sessionsRoot(), sessionId, 'files');
}

/**
 * Moves the read folder to its place. Only after this the database may speak of the session; what
 * a crash leaves in between is swept at start.
 */
export async function placeSessionFiles(
  sessionId: string,
  folder: string,
  input: StoredInput,
): Promise<void> {
  const target = path.join(sessionsRoot(), sessionId);
  const part = `${target}.part`;
  await mkdir(part, { recursive: true });
  await rename(folder, path.join(part, 'files'));
  await writeFile(path.join(part, 'input.json'), toJson(input));
  await syncTree(part);
  crashPoint('import:files-synced');
  await renameDurably(part, target);
  await syncToDisk(path.dirname(sessionsRoot()));
  crashPoint('import:files-renamed');
}

const inputHead = z.looseObject({
  title: z.string(),
  zero: z.object({ taiNs: z.bigint() }),
  sources: z.array(z.looseObject({ type: z.enum(['telemetry', 'events']), file: z.string() })),
});

/** What reading the session's folder yielded, without the samples. */
export async function readStoredInput(sessionId: string): Promise<StoredInput> {
  const text = await readFile(path.join(sessionsRoot(), sessionId, 'input.json'), 'utf8');
  const value = fromJson(text);
  inputHead.parse(value);
  return value as StoredInput;
}

/** Removes a session's files; nothing happens when they are gone. */
export async function removeSessionFiles(sessionId: string): Promise<void> {
  await rm(path.join(sessionsRoot(), sessionId), { recursive: true, force: true });
}
