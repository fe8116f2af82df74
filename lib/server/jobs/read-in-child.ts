/** Reads an upload in a child process of its own. */
import type { Issue } from '@/lib/core/result';
import type {
  FolderReading,
  ImportAnswer,
  ImportRequestMessage,
  JobProgress,
} from './import-messages';
import { runInChild } from './run-in-child';

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
export function readInChild(
  request: ImportRequestMessage,
  { onProgress, signal }: ReadOptions,
): Promise<ReadFolder> {
  return runInChild<ImportAnswer, ReadFolder>({
    entry: 'import-child',
    request,
    take: (answer) => {
      if (answer.kind === 'read') {
        const { reading, issues, toDescribe } = answer;
        return { reading, issues, toDescribe };
      }
      onProgress(answer.progress);
      return null;
    },
    signal,
  });
}
