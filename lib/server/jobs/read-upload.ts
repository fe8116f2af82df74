/** An upload as the import reads it: unpacked, its session folder found, everything in it read. */
import { readdir } from 'node:fs/promises';
import path from 'node:path';
import { hasErrors, type Issue } from '@/lib/core/result';
import { readSessionFolder } from '../session-folder';
import { keptDoubts } from '../uploads/described-doubts';
import { unzip } from '../uploads/unzip';
import { describedPlace, sketchUpload, type UploadPlace } from '../uploads/upload-sketch';
import { findSessionRoot, NO_SESSION_FILE } from './find-session-root';
import type { FolderReading, ImportRequestMessage, JobProgress } from './import-messages';
import { toStored } from './stored-input';

const STAGE_WORDS: Readonly<Record<string, string>> = {
  hash: 'Checking',
  head: 'Reading the head of',
  data: 'Reading',
  check: 'Checking the rows of',
  levels: 'Writing zoom levels of',
  seal: 'Sealing',
};

export type ReadUpload = Readonly<{
  reading: FolderReading | null;
  issues: readonly Issue[];
  toDescribe: boolean;
}>;

type Unpacked = Readonly<{ place: UploadPlace; issues: readonly Issue[] }>;

type Tell = (progress: JobProgress) => void;

async function unpack(uploadFolder: string, tell: Tell): Promise<Unpacked> {
  const described = await describedPlace(uploadFolder);
  if (described !== null) return { place: described, issues: [] };
  const files = path.join(uploadFolder, 'files');
  const [only, ...others] = await readdir(files);
  if (only === undefined || others.length > 0 || !only.toLowerCase().endsWith('.zip')) {
    return { place: 'files', issues: [] };
  }
  const into = path.join(uploadFolder, 'unpacked');
  const onProgress = (bytesDone: number, bytesTotal: number): void =>
    tell({ stage: `Unpacking ${only}`, bytesDone, bytesTotal, rowsDone: 0 });
  const issues = await unzip({ file: path.join(files, only), into, onProgress });
  return { place: 'unpacked', issues };
}

function refused(issues: readonly Issue[]): ReadUpload {
  return { reading: null, issues, toDescribe: false };
}

/**
 * Unpacks an upload, looks for its session folder and reads it, or says what could be described.
 *
 * @param tell how far it has come
 */
export async function readUpload(request: ImportRequestMessage, tell: Tell): Promise<ReadUpload> {
  const unpacked = await unpack(request.uploadFolder, tell);
  if (hasErrors(unpacked.issues)) return refused(unpacked.issues);
  const root = await findSessionRoot(path.join(request.uploadFolder, unpacked.place));
  if (root.folder === null) {
    const isBare = root.issues.some(({ code }) => code === NO_SESSION_FILE);
    if (!isBare) return refused(root.issues);
    const faults = await sketchUpload(request.uploadFolder, unpacked.place);
    if (faults === null) return { reading: null, issues: root.issues, toDescribe: true };
    return refused(faults.length > 0 ? faults : root.issues);
  }
  const folder = await readSessionFolder(root.folder, {
    samplesRoot: request.samplesRoot,
    original: 'link',
    onProgress: ({ stage, file, bytesDone, bytesTotal, rowsDone }) =>
      tell({
        stage: `${STAGE_WORDS[stage] ?? stage} ${file}`,
        bytesDone,
        bytesTotal,
        rowsDone: rowsDone ?? 0,
      }),
  });
  const { input, sessionFile, files, planText, rulesText, telemetry, runsFolder, issues } = folder;
  if (input === null || sessionFile === null) {
    const toDescribe = (await describedPlace(request.uploadFolder)) !== null;
    return { reading: null, issues, toDescribe };
  }
  const reading = {
    folder: root.folder,
    input: toStored(input, sessionFile, { telemetry, runsFolder }),
    sessionFile,
    files,
    planText,
    rulesText,
    telemetry,
  };
  const doubts = await keptDoubts(request.uploadFolder);
  return { reading, issues: [...issues, ...doubts], toDescribe: false };
}
