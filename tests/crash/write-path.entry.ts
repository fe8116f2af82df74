/**
 * `node .built/write-path.mjs [FOLDER [STEP]]`: what the server does at start, then, where a session
 * folder is given, its import and one publication, with a look through the store in between. With a
 * STEP, `replace`, `describe` or `publish`, the session that is there is not imported again and that
 * step alone is done. DATA_DIR says where.
 *
 * The process is meant to be killed on its way; started again it mends and goes all the way. Prints
 * lines of JSON: the log's own, and `{ step, problems }` after each look.
 */
import { mkdirSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { ReadableStream } from 'node:stream/web';
import { setTimeout as sleep } from 'node:timers/promises';
import { ensureLocalActor } from '@/lib/server/actor';
import { describeUpload } from '@/lib/server/commands/describe-upload';
import { draftDebrief } from '@/lib/server/commands/draft-debrief';
import { publishDebrief } from '@/lib/server/commands/publish-debrief';
import { replaceFile } from '@/lib/server/commands/replace-file';
import { startImport } from '@/lib/server/commands/start-import';
import { closeDatabase, db } from '@/lib/server/db';
import { env } from '@/lib/server/env';
import { startQueue, stopQueue } from '@/lib/server/jobs/queue';
import { recover } from '@/lib/server/jobs/recover';
import { lockDataDir } from '@/lib/server/lock-data-dir';
import { loadDescription } from '@/lib/server/queries/load-description';
import { type JobView, readJob } from '@/lib/server/queries/load-job';
import { type CommandResult, runCommand } from '@/lib/server/run-command';
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

type SentFile = readonly [name: string, bytes: Uint8Array];

function filesOf(folder: string): readonly SentFile[] {
  const names = readdirSync(folder).sort();
  return names.map((name) => [name, readFileSync(path.join(folder, name))]);
}

function streamOf(bytes: Uint8Array): ReadableStream<Uint8Array> {
  return new ReadableStream({
    start: (controller) => {
      controller.enqueue(bytes);
      controller.close();
    },
  });
}

async function upload(files: readonly SentFile[]): Promise<string> {
  let uploadId: string | null = null;
  for (const [name, bytes] of files) {
    const body = streamOf(bytes);
    const announcedBytes = bytes.length;
    const signal = new AbortController().signal;
    const got = await receiveFile({ uploadId, name, announcedBytes, body, signal });
    if (!('uploadId' in got)) throw new Error(got.message);
    uploadId = got.uploadId;
  }
  if (uploadId === null) throw new Error('nothing to send');
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

function jobOf(asked: CommandResult<Readonly<{ jobId: string }>>): string {
  if (!asked.ok) throw new Error(asked.message);
  return asked.data.jobId;
}

/** Runs the queue until a job has ended, and looks. */
async function lookAfter(step: string, jobId: string): Promise<JobView> {
  startQueue();
  const job = await endOf(jobId);
  await stopQueue();
  await look(step, { state: job.state, issues: job.result?.issues ?? [] });
  return job;
}

async function importFolder(folder: string): Promise<JobView> {
  const uploadId = await upload(filesOf(folder));
  return lookAfter('imported', jobOf(await runCommand(startImport, { uploadId })));
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
  const published = await runCommand(publishDebrief, {
    sessionId,
    version,
    title,
    reason: 'Published once more.',
  });
  const state = published.ok ? 'done' : published.code;
  await look('published', { state, issues: published.ok ? [] : [{ message: published.message }] });
}

/** The same flight with its last row left out takes the place of the telemetry. */
async function replaceTelemetry(folder: string, sessionId: string): Promise<void> {
  const file = 'telemetry.csv';
  const rows = readFileSync(path.join(folder, file), 'utf8').trimEnd().split('\n').slice(0, -1);
  const uploadId = await upload([[file, Buffer.from(`${rows.join('\n')}\n`)]]);
  const select = { version: true } as const;
  const { version } = await db().session.findUniqueOrThrow({ where: { id: sessionId }, select });
  const asked = runCommand(replaceFile, { sessionId, version, file, uploadId });
  await lookAfter('replaced', jobOf(await asked));
}

/** A flight of which there is the voice log alone, and nothing that says how to read it. */
const DESCRIBED: readonly string[] = ['loop.vtt', 'plan.yaml', 'rules.yaml'];

/** The upload that a run before left to be described, or a new one of the files alone. */
async function uploadToDescribe(folder: string): Promise<string> {
  const where = { kind: 'import', result: { contains: '"describe":' } };
  const asked = await db().job.findFirst({ where, select: { id: true } });
  const bare = filesOf(folder).filter(([name]) => DESCRIBED.includes(name));
  const jobId = asked?.id ?? jobOf(await runCommand(startImport, { uploadId: await upload(bare) }));
  startQueue();
  const { result } = await endOf(jobId);
  await stopQueue();
  return result?.describe ?? '';
}

async function describeFiles(folder: string): Promise<void> {
  const uploadId = await uploadToDescribe(folder);
  const found = await loadDescription(uploadId);
  const said = { title: 'Described by hand', zero: '2027-04-06T13:05:00Z' };
  const description = { ...found?.proposal.description, ...said };
  await lookAfter('described', jobOf(await runCommand(describeUpload, { uploadId, description })));
}

/** Work that waited when the run before died. */
async function finishWaiting(): Promise<void> {
  const waiting = await db().job.findFirst({ where: { state: 'waiting' }, select: { id: true } });
  if (waiting !== null) await lookAfter('finished', waiting.id);
}

const [folder, only] = process.argv.slice(2);
await start();
if (folder !== undefined) {
  await finishWaiting();
  const oldest = { orderBy: { createdAt: 'asc' }, select: { id: true } } as const;
  const there = only === undefined ? null : await db().session.findFirst(oldest);
  const sessionId = there?.id ?? (await importFolder(folder)).result?.sessionId ?? null;
  if (only === 'describe') await describeFiles(folder);
  else if (sessionId !== null && only === 'replace') await replaceTelemetry(folder, sessionId);
  else if (sessionId !== null) await publishSession(sessionId);
}
await closeDatabase();
