/** What was doubtful in a description when it was accepted: the session it makes still says so. */
import { readFile, rm, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import type { Issue } from '@/lib/core/result';
import { syncToDisk } from '../durable-files';
import { isSystemError } from '../samples/durable-files';

const DOUBTS_FILE = 'doubts.json';

const doubtsSchema = z.array(
  z.object({ code: z.string(), file: z.string(), message: z.string() }).readonly(),
);

/** Codes of warnings that reading the described folder does not find again. */
const KEPT = /^columns-disagree-|^no-track$/;

/** Keeps the warnings that a person imported in spite of, beside the upload. */
export async function keepDoubts(upload: string, issues: readonly Issue[]): Promise<void> {
  const kept = issues.flatMap(({ code, file = '', message }) =>
    KEPT.test(code) ? [{ code, file, message }] : [],
  );
  const file = path.join(upload, DOUBTS_FILE);
  if (kept.length === 0) return rm(file, { force: true });
  await writeFile(file, JSON.stringify(kept));
  await syncToDisk(file);
}

/** @returns none where the upload was not described */
export async function keptDoubts(upload: string): Promise<readonly Issue[]> {
  try {
    const text = await readFile(path.join(upload, DOUBTS_FILE), 'utf8');
    const doubts = doubtsSchema.parse(JSON.parse(text));
    return doubts.map((doubt) => ({ ...doubt, severity: 'warning' }));
  } catch (error) {
    if (isSystemError(error, ['ENOENT', 'ENOTDIR'])) return [];
    throw error;
  }
}
