/** A CCSDS navigation message taken apart: everything as written, with its lines. */
import type { Issue } from '../../result';
import type { CcsdsKind } from './ccsds-keywords';

/** `KEYWORD = value` and the 1-based line it stands on. */
export type CcsdsEntry = Readonly<{ keyword: string; value: string; line: number }>;

/**
 * A row of data: its stamp and its numbers by keyword, all as written. A tracking observation has
 * one number; a state has its components.
 */
export type CcsdsRow = Readonly<{
  line: number;
  stamp: string;
  cells: readonly (readonly [keyword: string, text: string])[];
}>;

export type CcsdsSegment = Readonly<{
  /** Line on which the segment's metadata starts. */
  line: number;
  metadata: readonly CcsdsEntry[];
  rows: readonly CcsdsRow[];
  comments: readonly string[];
  /** Covariance matrices, which are counted and not used. */
  covarianceCount: number;
}>;

export type CcsdsMessage = Readonly<{
  kind: CcsdsKind;
  version: string;
  header: readonly CcsdsEntry[];
  comments: readonly string[];
  segments: readonly CcsdsSegment[];
}>;

/** What a reader of one of the two spellings found. */
export type CcsdsFound = Readonly<{ message: CcsdsMessage | null; issues: readonly Issue[] }>;

/** The value of a metadata keyword of a segment; null where it is not given. */
export function metadataValue(segment: CcsdsSegment, keyword: string): string | null {
  return segment.metadata.find((entry) => entry.keyword === keyword)?.value ?? null;
}
