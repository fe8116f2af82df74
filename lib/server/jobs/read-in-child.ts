/** Reads an upload in a child process of its own. */
import { type ChildProcess, fork } from 'node:child_process';
import type { Issue } from '@/lib/core/result';
import { builtEntry } from './built';
import type {
  FolderReading,
  ImportAnswer,
  ImportRequestMessage,
  JobProgress,
} from './import-messages';
import { EndedEarly } from './job-end';

export type ReadFolder = Readonly<{
  reading: FolderReading | null;
  issues: readonly Issue[];
  toDescribe: boolean;
}>;

type ReadOptions = Readonly<{
  onProgress: (progress: JobProgress) => void;
  signal: AbortSignal;
}>;

/**
 * @returns what was read, or the issues that stopped it; throws when the child stopped without an
 * answer, and the signal's reason when it was cancelled
 */
export async function readInChild(
  request: ImportRequestMessage,
  { onProgress, signal }: ReadOptions,
): Promise<ReadFolder> {
  signal.throwIfAborted();
  const child = fork(builtEntry('import-child'), [], {
    serialization: 'advanced',
    stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
    execArgv: ['--enable-source-maps'],
  });
  const kill = (): boolean => child.kill('SIGKILL');
  signal.addEventListener('abort', kill, { once: true });
  try {
    child.send(request);
    return await answerOf(child, onProgress);
  } catch (error) {
    signal.throwIfAborted();
    throw error;
  } finally {
    signal.removeEventListener('abort', kill);
    kill();
  }
}

function answerOf(
  child: ChildProcess,
  onProgress: (progress: JobProgress) => void,
): Promise<ReadFolder> {
  return new Promise((resolve, reject) => {
    child.on('message', (answer: ImportAnswer) => {
      if (answer.kind === 'progress') onProgress(answer.progress);
      else if (answer.kind === 'broken') reject(new Error(answer.message));
      else {
        const { reading, issues, toDescribe } = answer;
        resolve({ reading, issues, toDescribe });
      }
    });
    child.once('error', reject);
    child.once('exit', (code, signalName) => reject(new EndedEarly(signalName ?? `code ${code}`)));
  });
}
