/** A publication's files: written beside, flushed, and only then given their name. */
import { createHash } from 'node:crypto';
import { mkdir, open, rename, rm } from 'node:fs/promises';
import path from 'node:path';
import { type CrashPointName, crashPoint } from '../crash-point';
import { publishedRoot } from '../data-folders';
import { syncToDisk } from '../durable-files';
import { newId } from '../new-id';
import type { RenderedDebrief } from './publish-messages';

export type WrittenFile = Readonly<{
  name: string;
  mediaType: string;
  sha256: string;
  bytes: number;
}>;

/** A folder that nothing refers to yet. */
export type UnnamedFolder = Readonly<{ folder: string; files: readonly WrittenFile[] }>;

async function writeDurably(
  folder: string,
  file: Readonly<{ name: string; mediaType: string; text: string }>,
  after: CrashPointName,
): Promise<WrittenFile> {
  const content = Buffer.from(file.text, 'utf8');
  const handle = await open(path.join(folder, file.name), 'wx');
  try {
    await handle.writeFile(content);
    await handle.sync();
  } finally {
    await handle.close();
  }
  crashPoint(after);
  const sha256 = createHash('sha256').update(content).digest('hex');
  return { name: file.name, mediaType: file.mediaType, sha256, bytes: content.length };
}

/** Writes record and page under a name that start-up sweeps away. */
export async function writeUnnamed(rendered: RenderedDebrief): Promise<UnnamedFolder> {
  const folder = path.join(publishedRoot(), `.tmp-${newId()}`);
  await mkdir(folder, { recursive: true });
  const record = { name: 'record.json', mediaType: 'application/json', text: rendered.recordJson };
  const page = { name: 'debrief.html', mediaType: 'text/html; charset=utf-8', text: rendered.html };
  const files = [
    await writeDurably(folder, record, 'publish:record-synced'),
    await writeDurably(folder, page, 'publish:page-synced'),
  ];
  await syncToDisk(folder);
  crashPoint('publish:folder-synced');
  return { folder, files };
}

/**
 * Gives the folder its name. Called inside the transaction that has made sure that no row has the
 * name: a folder that has it without one was left by a crash.
 */
export async function nameFolder({ folder }: UnnamedFolder, name: string): Promise<void> {
  const target = path.join(publishedRoot(), name);
  await rm(target, { recursive: true, force: true });
  await rename(folder, target);
  crashPoint('publish:renamed');
  await syncToDisk(publishedRoot());
  crashPoint('publish:root-synced');
}

/** Takes back what was written for a publication that did not come about. */
export async function removeUnnamed({ folder }: UnnamedFolder): Promise<void> {
  await rm(folder, { recursive: true, force: true });
}
