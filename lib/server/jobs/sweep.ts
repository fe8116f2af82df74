/**
 * Removes what nothing refers to: a crash, a kill or a removed session leaves folders behind, and
 * the database is what says which of them count. Never while an import or reconstruction runs.
 */
import { readdir, rm, stat } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import { publishedRoot, samplesRoot, sessionsRoot, uploadsRoot } from '../data-folders';
import { db } from '../db';
import { sweepTemporary } from '../samples/sweep-temporary';

export type Swept = Readonly<{ place: string; folders: readonly string[] }>;

/** Samples, unfinished ones included, and session files that no row names. */
export async function sweepStore(): Promise<Swept[]> {
  const temporary = await sweepTemporary(samplesRoot());
  const samples = await removeOthers(samplesRoot(), await keptSampleFolders());
  const sessions = await db().session.findMany({ select: { id: true } });
  const files = await removeOthers(sessionsRoot(), new Set(sessions.map((row) => row.id)));
  return [
    { place: 'samples', folders: [...temporary, ...samples] },
    { place: 'sessions', folders: files },
  ].filter((swept) => swept.folders.length > 0);
}

/** Uploads that no open job will read and that nothing was added to for this long. */
export async function sweepUploads({ idleMs }: Readonly<{ idleMs: number }>): Promise<Swept[]> {
  const open = await db().job.findMany({
    where: { state: { in: ['waiting', 'running'] } },
    select: { input: true },
  });
  const named = z.looseObject({ uploadId: z.string().optional() });
  const kept = new Set(open.flatMap((job) => named.parse(JSON.parse(job.input)).uploadId ?? []));
  for (const name of await namesIn(uploadsRoot())) {
    const { mtimeMs } = await stat(path.join(uploadsRoot(), name, 'files')).catch(() => ({
      mtimeMs: 0,
    }));
    if (Date.now() - mtimeMs < idleMs) kept.add(name);
  }
  const folders = await removeOthers(uploadsRoot(), kept);
  return folders.length === 0 ? [] : [{ place: 'uploads', folders }];
}

/** Publications that were not finished. A publication's folder may lie one level deeper. */
export async function sweepPublished(): Promise<Swept[]> {
  const rows = await db().publication.findMany({ select: { folder: true } });
  const kept = new Set(rows.map((row) => row.folder));
  const parents = new Set(rows.flatMap((row) => row.folder.split('/').slice(0, 1)));
  const folders = await removeOthers(publishedRoot(), parents);
  for (const parent of parents) {
    if (kept.has(parent)) continue;
    const inside = [...kept].filter((folder) => folder.startsWith(`${parent}/`));
    const names = new Set(inside.map((folder) => folder.slice(parent.length + 1)));
    const removed = await removeOthers(path.join(publishedRoot(), parent), names);
    folders.push(...removed.map((name) => `${parent}/${name}`));
  }
  return folders.length === 0 ? [] : [{ place: 'published', folders }];
}

async function keptSampleFolders(): Promise<Set<string>> {
  const sources = await db().sourceVersion.findMany({ select: { folder: true } });
  const derived = await db().reconstruction.findMany({ select: { derivedFolder: true } });
  return new Set([...sources.map((row) => row.folder), ...derived.map((row) => row.derivedFolder)]);
}

async function removeOthers(root: string, kept: ReadonlySet<string>): Promise<string[]> {
  const others = (await namesIn(root)).filter((name) => !kept.has(name)).sort();
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
