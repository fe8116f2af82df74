/** The files of recordings: one folder each under DATA_DIR/recordings, never changed once it is there. */
import { mkdir, open, rename, rm, stat } from 'node:fs/promises';
import path from 'node:path';
import { MEDIA_HEAD_BYTES, type MediaKind, mediaKind } from '@/lib/view/recordings/media-kind';
import { recordingsRoot } from '../data-folders';
import { renameDurably, syncToDisk } from '../durable-files';
import { newId } from '../new-id';
import { keepFile } from '../samples/durable-files';
import { recordingLength } from './recording-length';

const MEDIA = 'media';

/** Where the file of a recording lies. */
export function recordingFile(folder: string): string {
  return path.join(recordingsRoot(), folder, MEDIA);
}

/** The first bytes of a file, by which its kind is told. */
export async function readHead(file: string): Promise<Uint8Array> {
  const handle = await open(/* turbopackIgnore: true */ file, 'r');
  try {
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(MEDIA_HEAD_BYTES), 0);
    return buffer.subarray(0, bytesRead);
  } finally {
    await handle.close();
  }
}

export type PlacedRecording = Readonly<{
  folder: string;
  kind: MediaKind;
  bytes: number;
  durationS: number | null;
}>;

/**
 * Puts a file into a folder of its own. Only after this the database may speak of it; what a crash leaves
 * in between is swept at start.
 *
 * @param how `move` takes it from where it is, `link` leaves it there as well
 * @returns null for a file that is no recording; it then stays where it was
 */
export async function placeRecording(
  source: string,
  how: 'move' | 'link',
): Promise<PlacedRecording | null> {
  const kind = mediaKind(await readHead(source));
  if (kind === null) return null;
  const durationS = await recordingLength(source, kind);
  const { size: bytes } = await stat(/* turbopackIgnore: true */ source);
  const folder = newId();
  const part = path.join(recordingsRoot(), `${folder}.part`);
  try {
    await mkdir(part, { recursive: true });
    if (how === 'move') await rename(source, path.join(part, MEDIA));
    else await keepFile(source, path.join(part, MEDIA), 'link');
    await syncToDisk(path.join(part, MEDIA));
    await syncToDisk(part);
    await renameDurably(part, path.join(recordingsRoot(), folder));
  } catch (error) {
    await rm(part, { recursive: true, force: true });
    throw error;
  }
  return { folder, kind, bytes, durationS };
}

/** Removes the file of a recording; nothing happens where it is gone. */
export async function removeRecordingFile(folder: string): Promise<void> {
  if (folder === '') return;
  await rm(path.join(recordingsRoot(), folder), { recursive: true, force: true });
}
