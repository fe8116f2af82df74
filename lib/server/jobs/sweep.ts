/**
 * Removes what nothing refers to: a crash, a kill or a removed session leaves folders behind, and
 * the database is what says which of them count. Never while an import or reconstruction runs.
 */
import { readdir, rm, stat } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import {
  publishedRoot,
  recordingsRoot,
  samplesRoot,
  sessionsRoot,
  uploadsRoot,
} from '../data-folders';
import { db } from '../db';
import { jobResultFromJson } from '../queries/load-job';
import { sweepTemporary } from '../samples/sweep-temporary';
import { editionName } from './session-files';

export type Swept = Readonly<{ place: string; folders: readonly string[] }>;

/** Samples, unfinished ones included, and session files that no row names. */
export async function sweepStore(): Promise<Swept[]> {
  const temporary = await sweepTemporary(samplesRoot());
  const samples = await removeOthers(samplesRoot(), keptSampleFolders);
  const files = await removeOthers(sessionsRoot(), async () => {
    const sessions = await db().session.findMany({ select: { id: true, filesNumber: true } });
    return new Set(
      sessions.flatMap(({ id, filesNumber }) =>
        Array.from({ length: filesNumber }, (_, before) =>
          editionName({ id, filesNumber: before + 1 }),
        ),
      ),
    );
  });
  return [
    { place: 'samples', folders: [...temporary, ...samples] },
    { place: 'sessions', folders: files },
  ].filter((swept) => swept.folders.length > 0);
}

/** Uploads that no open job will read and that nothing was added to for this long. */
export async function sweepUploads({ idleMs }: Readonly<{ idleMs: number }>): Promise<Swept[]> {
  const named = z.looseObject({ uploadId: z.string().optional() });
  const folders = await removeOthers(uploadsRoot(), async (names) => {
    const open = await db().job.findMany({
      where: { state: { in: ['waiting', 'running'] } },
      select: { input: true },
    });
    const kept = new Set(open.flatMap((job) => named.parse(JSON.parse(job.input)).uploadId ?? []));
    for (const uploadId of await uploadsToDescribe()) kept.add(uploadId);
    for (const name of names) {
      if (Date.now() - (await lastChangeMs(path.join(uploadsRoot(), name))) < idleMs)
        kept.add(name);
    }
    return kept;
  });
  return folders.length === 0 ? [] : [{ place: 'uploads', folders }];
}

/** How long an upload without a session.yaml waits for somebody to describe it. */
const DESCRIBED_WITHIN_MS = 7 * 24 * 3600 * 1000;

async function uploadsToDescribe(): Promise<readonly string[]> {
  const endedAt = { gte: new Date(Date.now() - DESCRIBED_WITHIN_MS) };
  const jobs = await db().job.findMany({
    where: { kind: 'import', endedAt, result: { contains: '"describe":' } },
    select: { result: true },
  });
  return jobs.flatMap(({ result }) => jobResultFromJson(result ?? '').describe ?? []);
}

/** When something was last added to an upload; its own folder is there a moment before `files`. */
async function lastChangeMs(upload: string): Promise<number> {
  return Math.max(...(await Promise.all([upload, path.join(upload, 'files')].map(changedMs))));
}

/** 0 for a folder that is gone. */
async function changedMs(folder: string): Promise<number> {
  return stat(/* turbopackIgnore: true */ folder).then(
    ({ mtimeMs }) => mtimeMs,
    () => 0,
  );
}

/**
 * Recordings that no row names. One that is just being attached has no row yet: where the server is at
 * work, what was touched lately stays.
 */
export async function sweepRecordings({ idleMs }: Readonly<{ idleMs: number }>): Promise<Swept[]> {
  const folders = await removeOthers(recordingsRoot(), async (names) => {
    const rows = await db().recording.findMany({ select: { folder: true } });
    const kept = new Set(rows.map(({ folder }) => folder));
    for (const name of names) {
      if (Date.now() - (await changedMs(path.join(recordingsRoot(), name))) < idleMs)
        kept.add(name);
    }
    return kept;
  });
  return folders.length === 0 ? [] : [{ place: 'recordings', folders }];
}

/** Publications that were not finished. A publication's folder may lie one level deeper. */
export async function sweepPublished(): Promise<Swept[]> {
  const rows = await db().publication.findMany({ select: { folder: true } });
  const kept = new Set(rows.map((row) => row.folder));
  const parents = new Set(rows.flatMap((row) => row.folder.split('/').slice(0, 1)));
  const folders = await removeOthers(publishedRoot(), async () => parents);
  for (const parent of parents) {
    if (kept.has(parent)) continue;
    const inside = [...kept].filter((folder) => folder.startsWith(`${parent}/`));
    const names = new Set(inside.map((folder) => folder.slice(parent.length + 1)));
    const removed = await removeOthers(path.join(publishedRoot(), parent), async () => names);
    folders.push(...removed.map((name) => `${parent}/${name}`));
  }
  return folders.length === 0 ? [] : [{ place: 'published', folders }];
}

async function keptSampleFolders(): Promise<Set<string>> {
  const sources = await db().sourceVersion.findMany({ select: { folder: true } });
  const computed = await db().reconstruction.findMany({
    select: { derivedFolder: true, runsFolder: true },
  });
  return new Set([
    ...sources.map((row) => row.folder),
    ...computed.flatMap(({ derivedFolder, runsFolder }) => [derivedFolder, runsFolder]),
  ]);
}

/**
 * Removes the folders of `root` that are not kept. What lies there is listed before asking what is
 * kept, so that a folder made meanwhile is never taken for one that nothing refers to.
 */
async function removeOthers(
  root: string,
  keptAmong: (names: readonly string[]) => Promise<ReadonlySet<string>>,
): Promise<string[]> {
  const names = await namesIn(root);
  const kept = await keptAmong(names);
  const others = names.filter((name) => !kept.has(name)).sort();
  for (const name of others) await rm(path.join(root, name), { recursive: true, force: true });
  return others;
}

/** What lies in a folder; nothing when there is no such folder. */
async function namesIn(root: string): Promise<string[]> {
  return readdir(root).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return [];
    throw error;
  });
}
