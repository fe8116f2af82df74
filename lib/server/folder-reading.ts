/** What one reading of a session folder gathers on its way. */
import type { Issue } from '@/lib/core/result';
import type { FolderFile, Found } from './folder-file';
import type { FolderText } from './read-text';
import type { ImportReport } from './samples/import-telemetry';
import type { ImportProgress } from './samples/import-watch';

export type SessionFolderOptions = Readonly<{
  samplesRoot: string;
  threads?: number;
  original?: 'copy' | 'link' | 'leave';
  onProgress?: (progress: ImportProgress & Readonly<{ file: string }>) => void;
  signal?: AbortSignal;
}>;

export type TelemetryFolder = Readonly<{ file: string; folder: string; report: ImportReport }>;

/** What one reading gathers on its way. */
export type Gathered = {
  readonly folder: string;
  readonly options: SessionFolderOptions;
  readonly files: FolderFile[];
  readonly issues: Issue[];
};

/** The value, or null with its issue noted. */
export function take<T>(gathered: Gathered, found: Found<T>): T | null {
  if (found.issue !== null) gathered.issues.push(found.issue);
  return found.value;
}

/** A text and what was said of it; the file counts as read. */
export function takeText(gathered: Gathered, found: Found<FolderText>): FolderText | null {
  const text = take(gathered, found);
  if (text === null) return null;
  gathered.files.push(text.file);
  gathered.issues.push(...text.issues);
  return text;
}
