/** What the import's child process is told and what it answers. */
import type { Issue } from '@/lib/core/result';
import type { SessionFile } from '@/lib/core/session/session-file';
import type { FolderFile } from '../folder-file';
import type { ImportReport } from '../samples/import-telemetry';
import type { Broken } from './child-answer';
import type { StoredInput } from './stored-input';

export type ImportRequestMessage = Readonly<{
  /** Folder of the upload: `files/` as sent; an archive is unpacked beside it. */
  uploadFolder: string;
  samplesRoot: string;
}>;

export type JobProgress = Readonly<{
  stage: string;
  bytesDone: number;
  bytesTotal: number;
  rowsDone: number;
}>;

/** A session folder that could be read whole. */
export type FolderReading = Readonly<{
  /** Absolute path of the folder that holds session.yaml. */
  folder: string;
  input: StoredInput;
  sessionFile: SessionFile;
  files: readonly FolderFile[];
  planText: string | null;
  rulesText: string | null;
  telemetry: readonly Readonly<{ file: string; folder: string; report: ImportReport }>[];
}>;

export type ImportAnswer =
  | Readonly<{ kind: 'progress'; progress: JobProgress }>
  | Readonly<{
      kind: 'read';
      reading: FolderReading | null;
      issues: readonly Issue[];
      /** True where a person can say what the files are, and that would help. */
      toDescribe: boolean;
    }>
  | Broken;
