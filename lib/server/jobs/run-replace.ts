/**
 * Replaces one file of a session by a better version: the whole folder is read again with it, the
 * approach reconstructed, and one transaction makes it the session's. Findings and documents stay as
 * they are, published debriefs too; until the transaction everything shows the edition before.
 */
import { mkdir, readdir, rename, rm } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import type { Issue } from '@/lib/core/result';
import { crashPoint } from '../crash-point';
import { samplesRoot } from '../data-folders';
import { db, TRANSACTION_LIMITS, type Transaction } from '../db';
import { listFiles } from '../durable-files';
import { loadWordsSince } from '../queries/load-corrections';
import { placeFolderRecordings, storeRecordings } from '../recordings/folder-recordings';
import { parseJson, sourceSpecFromJson, toJson } from '../rows';
import { withSessionsAsRuns } from '../run-sessions';
import { keepFile, pathExists } from '../samples/durable-files';
import { removeUpload, uploadFolder } from '../uploads/receive-file';
import { type KeptVersions, keptVersions, noteOtherVersions } from './edition-versions';
import type { FolderReading } from './import-messages';
import { refuseIfCancelled } from './job-end';
import { failedWith, type JobContext, type JobOutcome, sessionGone } from './job-runner';
import { readInChild } from './read-in-child';
import { reconstructInChild } from './reconstruct-in-child';
import { originalFolder, placeSessionFiles } from './session-files';
import {
  findSameSession,
  folderHash,
  storeCrewQuestions,
  storeReconstruction,
  storeSource,
} from './store-session';
import { storePlan, storeRules } from './store-versions';
import { withCorrections } from './stored-input';
import { withVersions } from './used-input';

const replaceInput = z.object({
  sessionId: z.string(),
  file: z.string(),
  uploadId: z.string(),
});

type Replacement = z.infer<typeof replaceInput>;

const SESSION_COLUMNS = { id: true, filesNumber: true, zeroTaiNs: true, version: true } as const;
type SessionRow = Readonly<{ id: string; filesNumber: number; zeroTaiNs: bigint; version: number }>;

export async function runReplace(context: JobContext): Promise<JobOutcome> {
  const work = parseJson(replaceInput, context.input);
  try {
    const where = { id: work.sessionId, teamId: context.actor.teamId };
    const session = await db().session.findFirst({ where, select: SESSION_COLUMNS });
    if (session === null) return sessionGone();
    const problem = await assemble(session, work);
    if (problem !== null) return failedWith([problem]);
    crashPoint('replace:assembled');
    return await readAndKeep(context, session, work);
  } finally {
    await removeUpload(work.uploadId);
  }
}

/** Puts the session's other files beside the new one, so that the upload is the whole folder. */
async function assemble(session: SessionRow, work: Replacement): Promise<Issue | null> {
  const upload = uploadFolder(work.uploadId);
  const [files, sent] = [path.join(upload, 'files'), path.join(upload, 'sent')];
  if (!(await pathExists(files))) {
    const message = 'what was sent is no longer there: send it again';
    return { code: 'no-such-upload', severity: 'error', file: work.file, message };
  }
  await rename(files, sent);
  const [only, ...others] = await readdir(sent);
  if (only === undefined || others.length > 0) {
    const message = `one file takes the place of ${work.file}, ${others.length + 1} were sent`;
    return { code: 'one-file-expected', severity: 'error', file: work.file, message };
  }
  const old = originalFolder(session);
  const names = await listFiles(old);
  // One that was awaited is new; whether the session asks for it, its reading says.
  for (const name of new Set([...names, work.file])) {
    const target = path.join(files, name);
    await mkdir(path.dirname(target), { recursive: true });
    const source = name === work.file ? path.join(sent, only) : path.join(old, name);
    await keepFile(source, target, 'link');
  }
  await rm(sent, { recursive: true });
  return null;
}

async function readAndKeep(
  context: JobContext,
  session: SessionRow,
  work: Replacement,
): Promise<JobOutcome> {
  const { reading, issues } = await readInChild(
    { uploadFolder: uploadFolder(work.uploadId), samplesRoot: samplesRoot() },
    { onProgress: context.report, signal: context.signal },
  );
  if (reading === null) return failedWith(issues);
  const problem = await fitsSession(context, session, { reading, file: work.file });
  if (problem !== null) return failedWith([problem]);
  const stage = { bytesDone: 0, bytesTotal: 0, rowsDone: 0 };
  context.report({ ...stage, stage: 'Reconstructing the approach' });
  const used = await keptVersions(session, reading);
  const corrected = withCorrections(
    withVersions(reading.input, used),
    await loadWordsSince(session.id),
  );
  const reconstruction = await reconstructInChild(
    await withSessionsAsRuns(corrected, session.id),
    context.signal,
  );
  context.report({ ...stage, stage: 'Keeping the new edition' });
  const edition = { id: session.id, filesNumber: session.filesNumber + 1 };
  await placeSessionFiles(edition, reading.folder, reading.input);
  const { recordings = [] } = reading.input;
  const placed = await placeFolderRecordings(originalFolder(edition), recordings);
  const told = [...issues, ...placed.issues];
  const result = { sessionId: session.id, wasThere: false, issues: told };
  await db().$transaction(async (tx) => {
    await refuseIfCancelled(tx, context);
    await storeEdition(tx, context, { session, reading, used });
    await storeReconstruction(tx, session.id, reconstruction);
    await storeRecordings(tx, session.id, placed.recordings);
    const data = { state: 'done', stage: '', endedAt: new Date(), result: toJson(result) };
    await tx.job.update({ where: { id: context.jobId }, data, select: { id: true } });
  }, TRANSACTION_LIMITS);
  crashPoint('replace:committed');
  return { state: 'done', result };
}

type Fit = Readonly<{ reading: FolderReading; file: string }>;

/** What would make it another session: the same files as one that is there, another zero, other sources. */
async function fitsSession(
  { actor }: JobContext,
  session: SessionRow,
  { reading, file }: Fit,
): Promise<Issue | null> {
  const issue = (code: string, message: string): Issue => ({
    code,
    severity: 'error',
    file,
    message,
  });
  const same = await findSameSession(db(), actor.teamId, folderHash(reading));
  if (same === session.id) return issue('nothing-new', 'is the same file to the byte');
  if (same !== null)
    return issue('session-twice', 'would make the session the same as another one');
  if (reading.input.zero.taiNs !== session.zeroTaiNs) {
    const message =
      'gives another zero; findings and annotations stand on session time, import it as a new session';
    return issue('zero-differs', message);
  }
  const where = { sessionId: session.id, superseded: null };
  const rows = await db().sourceVersion.findMany({ where, select: { file: true } });
  const now = reading.sessionFile.sources.map((source) => source.file);
  const before = new Set(rows.map((row) => row.file));
  const isAlike =
    rows.every((row) => now.includes(row.file)) &&
    now.every((name) => before.has(name) || name === file);
  if (isAlike) return null;
  return issue('sources-differ', 'names other sources; import it as a new session');
}

type Edition = Readonly<{ session: SessionRow; reading: FolderReading; used: KeptVersions }>;

/** New versions of the files that differ, and the session's row. */
async function storeEdition(
  tx: Transaction,
  { actor }: JobContext,
  { session, reading, used }: Edition,
): Promise<void> {
  const { input } = reading;
  const sessionId = session.id;
  const rows = await tx.sourceVersion.findMany({
    where: { sessionId, superseded: null },
    select: { id: true, file: true, number: true, sha256: true, declared: true },
  });
  for (const earlier of rows) {
    const { file } = earlier;
    const sha256 = reading.files.find(({ name }) => name === file)?.sha256;
    const declared = reading.sessionFile.sources.find((source) => source.file === file);
    const isSame =
      sha256 === earlier.sha256 &&
      toJson(declared) === toJson(sourceSpecFromJson(earlier.declared));
    if (!isSame) await storeSource(tx, { sessionId, reading, file, earlier });
  }
  for (const { file } of reading.sessionFile.sources) {
    const isNew = !rows.some((row) => row.file === file);
    if (isNew) await storeSource(tx, { sessionId, reading, file, earlier: null });
  }
  await storeCrewQuestions(tx, sessionId, input.crewQuestions ?? []);
  // A version that was put in use while the files were read stays: it is computed in next.
  const replaced = {
    ...(used.planVersion === null ? { planVersionId: await storePlan(tx, actor, reading) } : {}),
    ...(used.ruleSetVersion === null
      ? { ruleSetVersionId: await storeRules(tx, actor, reading) }
      : {}),
  };
  await noteOtherVersions(tx, { sessionId, author: actor.name }, replaced);
  // Refused where another change came first: this one was read against the edition before.
  await tx.session.update({
    where: { id: sessionId, filesNumber: session.filesNumber },
    data: {
      title: input.title,
      kind: input.kind,
      folderSha256: folderHash(reading),
      ...replaced,
      filesNumber: { increment: 1 },
      version: { increment: 1 },
    },
    select: { id: true },
  });
}
