/**
 * Computes a session's reconstruction again, beside the one it has, which stays in use until then
 * and, when this fails, afterwards. What was published is not touched: it is a record of its own.
 */
import { z } from 'zod';
import type { Issue } from '@/lib/core/result';
import { samplesRoot } from '../data-folders';
import { db, TRANSACTION_LIMITS } from '../db';
import { loadWordsSince } from '../queries/load-corrections';
import { parseJson } from '../rows';
import { withSessionsAsRuns } from '../run-sessions';
import { samplePath } from '../samples/columns-of';
import { pathExists } from '../samples/durable-files';
import { failedWith, type JobContext, type JobOutcome, sessionGone } from './job-runner';
import { reconstructInChild } from './reconstruct-in-child';
import type { SessionEdition } from './session-files';
import { storeReconstruction } from './store-session';
import { type StoredInput, withCorrections } from './stored-input';
import { readUsedInput } from './used-input';

export const reconstructInput = z.object({ sessionId: z.string() });

export async function runReconstruct(context: JobContext): Promise<JobOutcome> {
  const { sessionId } = parseJson(reconstructInput, context.input);
  const stage = 'Reconstructing the approach';
  context.report({ stage, bytesDone: 0, bytesTotal: 0, rowsDone: 0 });
  const edition = await editionOf(sessionId);
  if (edition === null) return sessionGone();
  const stored = await readUsedInput(edition);
  const missing = await missingSamples(stored);
  if (missing.length > 0) return failedWith(missing);
  const reconstructed = await reconstructInChild(
    await withSessionsAsRuns(withCorrections(stored, await loadWordsSince(sessionId)), sessionId),
    context.signal,
  );
  const isKept = await db().$transaction(async (tx) => {
    // A file that was replaced meanwhile has its own, newer reconstruction.
    if ((await tx.session.count({ where: edition })) === 0) return false;
    await storeReconstruction(tx, sessionId, reconstructed);
    return true;
  }, TRANSACTION_LIMITS);
  if (!isKept) return sessionGone();
  return { state: 'done', result: { sessionId, wasThere: false, issues: [] } };
}

async function editionOf(id: string): Promise<SessionEdition | null> {
  return db().session.findUnique({ where: { id }, select: { id: true, filesNumber: true } });
}

/** One issue for each source whose samples are gone from the data folder. */
export async function missingSamples(stored: StoredInput): Promise<Issue[]> {
  const issues: Issue[] = [];
  const { simulations } = stored;
  const kept = [
    ...stored.sources.flatMap((source) => (source.type === 'telemetry' ? [source] : [])),
    ...(simulations === undefined ? [] : [{ file: simulations.files, folder: simulations.folder }]),
  ];
  for (const { file, folder } of kept) {
    if (await pathExists(samplePath(samplesRoot(), folder))) continue;
    issues.push({
      code: 'samples-missing',
      severity: 'error',
      file,
      message: `the samples of ${file} are no longer in the data folder`,
    });
  }
  return issues;
}
