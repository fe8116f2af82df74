import type { Issue } from '@/lib/core/result';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import type { Instant } from '@/lib/core/time/instant';
import type { SampleManifest } from './sample-manifest';

export type ImportStage = 'hash' | 'head' | 'data' | 'check' | 'levels' | 'seal';

/** `rowsDone` is null while rows are not counted yet. */
export type ImportProgress = Readonly<{
  stage: ImportStage;
  bytesDone: number;
  bytesTotal: number;
  rowsDone: number | null;
}>;

export type ImportRequest = Readonly<{
  /** Path of the source file. */
  file: string;
  spec: TelemetrySpec;
  zero: Instant;
  samplesRoot: string;
  threads?: number;
  /** How the original gets into the folder: a copy (default), a hard link, or not at all. */
  original?: 'copy' | 'link' | 'leave';
  onProgress?: (progress: ImportProgress) => void;
  signal?: AbortSignal;
}>;

/** What became of the file; the manifest without the hashes of the folder's own files. */
export type ImportReport = Omit<SampleManifest, 'files'> & Readonly<{ recognised: boolean }>;

/** `folder` is null when an issue of severity `error` stopped the import. */
export type ImportOutcome = Readonly<{
  folder: string | null;
  report: ImportReport | null;
  issues: readonly Issue[];
}>;

export async function importTelemetry(_request: ImportRequest): Promise<ImportOutcome> {
  throw new Error('importTelemetry is not written yet');
}
