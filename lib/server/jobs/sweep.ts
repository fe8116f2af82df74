/**
 * Removes what nothing refers to: a crash, a kill or a removed session leaves folders behind, and
 * the database is what says which of them count. Never while an import or reconstruction runs.
 */
import { readdir, rm } from 'node:fs/promises';
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

/** Uploads that no waiting job will read. Only at start: later ones may still be coming in. */
export async function sweepUploads(): Promise<Swept[]> {
  const waiting = await db().job.findMany({
    where: { state: { in: ['waiting', 'running'] } },
    select: { input: true },
  });
  const named = z.looseObject({ uploadId: z.string().optional() });
  const kept = waiting.flatMap((job) => named.parse(JSON.parse(job.input)).uploadId ?? []);
  const folders = await removeOthers(uploadsRoot(), new Set(kept));
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
  const names = await readdir(root).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return [];
    throw error;
  });
  const others = names.filter((name) => !kept.has(name)).sort();
  for (const name of others) await rm(path.join(root, name), { recursive: true, force: true });
  return others;
}
