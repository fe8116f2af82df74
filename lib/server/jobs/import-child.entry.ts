/**
 * The import's own process: it unpacks, reads and checks a session folder and writes its samples.
 * It can be killed at any moment and cannot take the server with it; the database is not its business.
 */

import { readdir } from 'node:fs/promises';
import path from 'node:path';
import { hasErrors, type Issue } from '@/lib/core/result';
import { readSessionFolder } from '../session-folder';
import { keptDoubts } from '../uploads/described-doubts';
import { unzip } from '../uploads/unzip';
import { describedPlace, sketchUpload, type UploadPlace } from '../uploads/upload-sketch';
import { answerParent } from './answer-parent';
import { capIssues } from './cap-issues';
import { findSessionRoot, NO_SESSION_FILE } from './find-session-root';
import type {
  FolderReading,
  ImportAnswer,
  ImportRequestMessage,
  JobProgress,
} from './import-messages';
import { toStored } from './stored-input';

const STAGE_WORDS: Readonly<Record<string, string>> = {
  hash: 'Checking',
  head: 'Reading the head of',
  data: 'Reading',
  check: 'Checking the rows of',
  levels: 'Writing zoom levels of',
  seal: 'Sealing',
};

type Read = Readonly<{
  reading: FolderReading | null;
  issues: readonly Issue[];
  toDescribe: boolean;
}>;

/** How far it has come; the answer itself comes last. */
function tell(progress: JobProgress): void {
  const message: ImportAnswer = { kind: 'progress', progress };
  process.send?.(message);
}

type Unpacked = Readonly<{ place: UploadPlace; issues: readonly Issue[] }>;

async function unpack(uploadFolder: string): Promise<Unpacked> {
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

function refused(issues: readonly Issue[]): Read {
  return { reading: null, issues, toDescribe: false };
}

async function read(request: ImportRequestMessage): Promise<Read> {
  const unpacked = await unpack(request.uploadFolder);
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

answerParent(async (request: ImportRequestMessage): Promise<ImportAnswer> => {
  const done = await read(request);
  return { kind: 'read', ...done, issues: capIssues(done.issues) };
});
