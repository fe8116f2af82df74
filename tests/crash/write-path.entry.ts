/**
 * `node .built/write-path.mjs [FOLDER [publish]]`: what the server does at start, then, where a
 * session folder is given, its import and one publication, with a look through the store in
 * between. With `publish` a session that is there is not imported again. DATA_DIR says where.
 *
 * The process is meant to be killed on its way; started again it mends and goes all the way. Prints
 * lines of JSON: the log's own, and `{ step, problems }` after each look.
 */
import { createReadStream, mkdirSync, readdirSync, statSync } from 'node:fs';
import path from 'node:path';
import { Readable } from 'node:stream';
import type { ReadableStream } from 'node:stream/web';
import { setTimeout as sleep } from 'node:timers/promises';
import { ensureLocalActor } from '@/lib/server/actor';
import { draftDebrief } from '@/lib/server/commands/draft-debrief';
import { publishDebrief } from '@/lib/server/commands/publish-debrief';
import { startImport } from '@/lib/server/commands/start-import';
import { closeDatabase, db } from '@/lib/server/db';
import { env } from '@/lib/server/env';
import { startQueue, stopQueue } from '@/lib/server/jobs/queue';
import { recover } from '@/lib/server/jobs/recover';
import { lockDataDir } from '@/lib/server/lock-data-dir';
import { type JobView, readJob } from '@/lib/server/queries/load-job';
import { runCommand } from '@/lib/server/run-command';
import { receiveFile } from '@/lib/server/uploads/receive-file';
import { migrate } from '@/prisma/migrate.mjs';
import { auditStore } from './store-audit';

async function look(step: string, more: Readonly<Record<string, unknown>> = {}): Promise<void> {
  const sessions = await db().session.count();
  const publications = await db().publication.count();
  const problems = await auditStore();
  console.log(JSON.stringify({ step, problems, sessions, publications, ...more }));
}

async function start(): Promise<void> {
  mkdirSync(env().dataDir, { recursive: true });
  if (!lockDataDir(env().dataDir)) throw new Error('the data folder is still locked');
  const folder = path.resolve('prisma', 'migrations', 'sqlite');
  migrate({ url: env().databaseUrl, folder });
  await ensureLocalActor();
  await recover();
  await look('started');
}

async function upload(folder: string): Promise<string> {
  let uploadId: string | null = null;
  for (const name of readdirSync(folder).sort()) {
    const file = path.join(folder, name);
    const body = Readable.toWeb(createReadStream(file)) as ReadableStream<Uint8Array>;
    const announcedBytes = statSync(file).size;
    const signal = new AbortController().signal;
    const got = await receiveFile({ uploadId, name, announcedBytes, body, signal });
    if (!('uploadId' in got)) throw new Error(got.message);
    uploadId = got.uploadId;
  }
  if (uploadId === null) throw new Error(`${folder} is empty`);
  return uploadId;
}

async function endOf(jobId: string): Promise<JobView> {
  for (;;) {
    const job = await readJob(jobId);
    if (job === null) throw new Error(`job ${jobId} is gone`);
    if (job.state !== 'waiting' && job.state !== 'running') return job;
    await sleep(20);
  }
}

async function importFolder(folder: string): Promise<JobView> {
  const started = await runCommand(startImport, { uploadId: await upload(folder) });
  if (!started.ok) throw new Error(started.message);
  startQueue();
  const job = await endOf(started.data.jobId);
  await stopQueue();
  await look('imported', { state: job.state, issues: job.result?.issues ?? [] });
  return job;
}

/** Publishes the session's draft; a run that died later had published the same already. */
async function publishSession(sessionId: string): Promise<void> {
  const where = { sessionId };
  const select = { version: true, title: true } as const;
  if ((await db().document.findUnique({ where, select })) === null) {
    const drafted = await runCommand(draftDebrief, { sessionId });
    if (!drafted.ok) throw new Error(drafted.message);
  }
  const { version, title } = await db().document.findUniqueOrThrow({ where, select });
  const published = await runCommand(publishDebrief, { sessionId, version, title });
  const state = published.ok ? 'done' : published.code;
  await look('published', { state, issues: published.ok ? [] : [{ message: published.message }] });
}

const [folder, only] = process.argv.slice(2);
await start();
if (folder !== undefined) {
  const there = only === 'publish' ? await db().session.findFirst({ select: { id: true } }) : null;
  const sessionId = there?.id ?? (await importFolder(folder)).result?.sessionId ?? null;
  if (sessionId !== null) await publishSession(sessionId);
}
await closeDatabase();
