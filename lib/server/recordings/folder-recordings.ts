/** Recordings that come with a session's folder, and those that go out with it. */
import { stat } from 'node:fs/promises';
import path from 'node:path';
import type { Issue } from '@/lib/core/result';
import {
  MOST_EXPORTED_BYTES,
  RECORDINGS_FOLDER,
  type RecordingWords,
} from '@/lib/core/session/recording-words';
import { MEDIA_TYPES, mediaRefusal } from '@/lib/view/recordings/media-kind';
import type { Transaction } from '../db';
import { newId } from '../new-id';
import { loadRecordings } from '../queries/load-recordings';
import { safeRelativePath } from '../safe-path';
import { hashFile, pathExists } from '../samples/durable-files';
import { freeName } from './free-name';
import { placeRecording, readHead, recordingFile } from './recording-files';

/** Words of people.yaml with the folder their file was put into; empty where it did not come along. */
export type FolderRecording = RecordingWords & Readonly<{ folder: string }>;

/**
 * Puts the recordings of a folder in their places.
 *
 * @param folder the session's files as they came; they stay there
 */
export async function placeFolderRecordings(
  folder: string,
  words: readonly RecordingWords[],
): Promise<Readonly<{ recordings: readonly FolderRecording[]; issues: readonly Issue[] }>> {
  const recordings: FolderRecording[] = [];
  const issues: Issue[] = [];
  for (const each of words) {
    const placed = await placeOne(folder, each);
    recordings.push(placed.recording);
    if (placed.problem !== null) issues.push(placed.problem);
  }
  return { recordings, issues };
}

async function placeOne(folder: string, words: RecordingWords) {
  const name = `${RECORDINGS_FOLDER}${words.name}`;
  const file = path.join(folder, name);
  const recording = { ...words, folder: '' };
  const told = (severity: Issue['severity'], code: string, message: string) => ({
    recording,
    problem: { severity, code, file: name, message } as Issue,
  });
  if (safeRelativePath(words.name) !== words.name || (await isOther(file)))
    return told('warning', 'unsafe-name', 'is no plain file: it is not attached');
  if (!(await pathExists(file)))
    return told(
      'note',
      'recording-not-here',
      `is named in people.yaml and did not come along; attach it on Sources to play it (SHA-256 ${words.sha256})`,
    );
  const { sha256 } = await hashFile(file);
  if (sha256 !== words.sha256)
    return told(
      'warning',
      'recording-differs',
      `is another file than people.yaml names: its SHA-256 is ${sha256}, expected ${words.sha256}; it is not attached`,
    );
  const placed = await placeRecording(file, 'link');
  if (placed === null)
    return told('warning', 'no-recording', mediaRefusal(words.name, await readHead(file)));
  const { kind, bytes, durationS } = placed;
  return {
    recording: {
      ...words,
      bytes,
      durationS: durationS ?? words.durationS,
      mediaType: MEDIA_TYPES[kind],
      folder: placed.folder,
    },
    problem: null,
  };
}

/** True where something else than a file stands under a name, such as a folder. */
async function isOther(file: string): Promise<boolean> {
  return stat(/* turbopackIgnore: true */ file).then(
    (found) => !found.isFile(),
    () => false,
  );
}

/** Recordings of a folder as rows; one that is attached already keeps what was said of it here. */
export async function storeRecordings(
  tx: Transaction,
  sessionId: string,
  recordings: readonly FolderRecording[],
): Promise<void> {
  if (recordings.length === 0) return;
  const select = { id: true, name: true, sha256: true, folder: true } as const;
  const there = await tx.recording.findMany({ where: { sessionId }, select });
  const names = new Set(there.map(({ name }) => name));
  for (const recording of recordings) {
    const known = there.find(({ sha256 }) => sha256 === recording.sha256);
    // What cannot be the name of a file cannot go out again under it.
    if (known !== undefined || safeRelativePath(recording.name) !== recording.name) continue;
    const name = freeName(recording.name, names);
    names.add(name);
    await storeOne(tx, sessionId, { ...recording, name });
  }
}

async function storeOne(
  tx: Transaction,
  sessionId: string,
  recording: FolderRecording,
): Promise<void> {
  const { name, mediaType, sha256, bytes, durationS, folder, author } = recording;
  const id = newId();
  await tx.recording.create({
    data: {
      id,
      sessionId,
      name,
      mediaType,
      sha256,
      bytes: BigInt(bytes),
      durationS,
      folder,
      author,
    },
    select: { id: true },
  });
  const { ties, reason, atIso } = recording;
  if (ties.length === 0) return;
  const at = atIso === null ? {} : { createdAt: new Date(atIso) };
  await tx.recordingClock.create({
    data: { id: newId(), recordingId: id, ties: JSON.stringify(ties), author, reason, ...at },
    select: { id: true },
  });
}

export type ExportedRecording = Readonly<{ name: string; file: string; bytes: number }>;

export type ExportedRecordings = Readonly<{
  /** Under their names in the folder. */
  files: readonly ExportedRecording[];
  /** Names in the folder that stand for recordings, removed ones and those left out among them. */
  names: readonly string[];
}>;

/** What goes out with a session's folder: the smallest first, as many as are allowed. */
export async function loadExportedRecordings(sessionId: string): Promise<ExportedRecordings> {
  const rows = await loadRecordings(sessionId);
  const files: ExportedRecording[] = [];
  let total = 0;
  const standing = rows.filter(({ removed, folder }) => removed === null && folder !== '');
  for (const { name, folder } of [...standing].sort((a, b) => a.bytes - b.bytes)) {
    const file = recordingFile(folder);
    const bytes = await stat(/* turbopackIgnore: true */ file).then(
      ({ size }) => size,
      () => null,
    );
    if (bytes === null || total + bytes > MOST_EXPORTED_BYTES) continue;
    total += bytes;
    files.push({ name: `${RECORDINGS_FOLDER}${name}`, file, bytes });
  }
  return { files, names: rows.map(({ name }) => `${RECORDINGS_FOLDER}${name}`) };
}
