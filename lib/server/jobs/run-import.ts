/** Import of an uploaded session folder: read, reconstruct, place the files, one transaction. */
import { z } from 'zod';
import type { Issue } from '@/lib/core/result';
import { crashPoint } from '../crash-point';
import { samplesRoot } from '../data-folders';
import { db, TRANSACTION_LIMITS, type Transaction } from '../db';
import { newId } from '../new-id';
import { placeFolderRecordings, storeRecordings } from '../recordings/folder-recordings';
import { parseJson, toJson } from '../rows';
import { removeUpload, uploadFolder } from '../uploads/receive-file';
import { NO_SESSION_FILE } from './find-session-root';
import { refuseIfCancelled } from './job-end';
import { failedWith, type JobContext, type JobOutcome } from './job-runner';
import { type ReadFolder, readInChild } from './read-in-child';
import { reconstructInChild } from './reconstruct-in-child';
import { originalFolder, placeSessionFiles } from './session-files';
import { findSameSession, folderHash, type SessionOrigin, storeSession } from './store-session';

export const importInput = z.object({ uploadId: z.string() });

type Import = Readonly<{
  uploadId: string;
  origin: SessionOrigin;
  /** What else belongs into the transaction that makes the session. */
  finish: (tx: Transaction, outcome: JobOutcome) => Promise<void>;
}>;

/** Runs an import job; its row is ended by the same transaction that makes the session. */
export async function runImport(context: JobContext): Promise<JobOutcome> {
  const { uploadId } = parseJson(importInput, context.input);
  return importUpload(context, {
    uploadId,
    origin: 'import',
    finish: (tx, { state, result }) =>
      endJob(tx, context.jobId, { state, result: toJson(result), sessionId: result.sessionId }),
  });
}

/**
 * Imports an upload; whatever comes of it, the upload is gone afterwards, unless a person is to say
 * what its files are.
 */
export async function importUpload(context: JobContext, work: Import): Promise<JobOutcome> {
  crashPoint('import:started');
  let toDescribe = false;
  try {
    const read = await readInChild(
      { uploadFolder: uploadFolder(work.uploadId), samplesRoot: samplesRoot() },
      { onProgress: context.report, signal: context.signal },
    );
    crashPoint('import:read');
    toDescribe = read.toDescribe;
    return await keep(context, work, read);
  } finally {
    if (!toDescribe) await removeUpload(work.uploadId);
    crashPoint('import:upload-removed');
  }
}

async function keep(context: JobContext, work: Import, read: ReadFolder): Promise<JobOutcome> {
  const { reading, issues, toDescribe } = read;
  if (reading === null && toDescribe) return askedToDescribe(work.uploadId, issues);
  if (reading === null) return failedWith(issues);
  const { teamId } = context.actor;
  const folderSha256 = folderHash(reading);
  const known = await findSameSession(db(), teamId, folderSha256);
  if (known !== null)
    return { state: 'done', result: { sessionId: known, wasThere: true, issues } };
  const stage = { bytesDone: 0, bytesTotal: 0, rowsDone: 0 };
  context.report({ ...stage, stage: 'Reconstructing the approach' });
  const reconstruction = await reconstructInChild(reading.input, context.signal);
  context.report({ ...stage, stage: 'Keeping the session' });
  const id = newId();
  const edition = { id, filesNumber: 1 };
  await placeSessionFiles(edition, reading.folder, reading.input);
  const { recordings = [] } = reading.input;
  const placed = await placeFolderRecordings(originalFolder(edition), recordings);
  const told = [...issues, ...placed.issues];
  const outcome: JobOutcome = {
    state: 'done',
    result: { sessionId: id, wasThere: false, issues: told },
  };
  await db().$transaction(async (tx) => {
    await refuseIfCancelled(tx, context);
    const { origin } = work;
    await storeSession(tx, context.actor, { id, origin, folderSha256, reading, reconstruction });
    await storeRecordings(tx, id, placed.recordings);
    await work.finish(tx, outcome);
  }, TRANSACTION_LIMITS);
  crashPoint('import:committed');
  return outcome;
}

/** Nothing is kept yet; the upload waits for a description, or for a better one. */
function askedToDescribe(uploadId: string, issues: readonly Issue[]): JobOutcome {
  const isFirst = issues.every(({ code }) => code === NO_SESSION_FILE);
  const result = { sessionId: null, wasThere: false, issues: isFirst ? [] : issues };
  return { state: isFirst ? 'done' : 'failed', result: { ...result, describe: uploadId } };
}

type JobEnd = Readonly<{ state: string; result: string; sessionId: string | null }>;

async function endJob(tx: Transaction, jobId: string, end: JobEnd): Promise<void> {
  await tx.job.update({
    where: { id: jobId },
    data: { ...end, stage: '', endedAt: new Date() },
    select: { id: true },
  });
}
