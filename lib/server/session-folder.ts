import type { Issue } from '@/lib/core/result';
import type { SessionFile } from '@/lib/core/session/session-file';
import type { SessionInput } from '@/lib/core/session/session-input';
import type { ImportProgress, ImportReport } from './samples/import-telemetry';

export type SessionFolderOptions = Readonly<{
  samplesRoot: string;
  threads?: number;
  original?: 'copy' | 'link' | 'leave';
  onProgress?: (progress: ImportProgress & Readonly<{ file: string }>) => void;
  signal?: AbortSignal;
}>;

export type FolderFile = Readonly<{ name: string; sha256: string; bytes: number }>;

export type SessionFolder = Readonly<{
  /** null when an issue of severity `error` stands in the way. */
  input: SessionInput | null;
  sessionFile: SessionFile | null;
  /** Every file that was read: session.yaml, the plan, the rules and the sources. */
  files: readonly FolderFile[];
  planText: string | null;
  rulesText: string | null;
  telemetry: readonly Readonly<{ file: string; folder: string; report: ImportReport }>[];
  issues: readonly Issue[];
}>;

export async function readSessionFolder(
  _folder: string,
  _options: SessionFolderOptions,
): Promise<SessionFolder> {
  throw new Error('readSessionFolder is not written yet');
}
