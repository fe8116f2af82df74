/** What a trial came to, as it is kept in its job's row. */

import type { ReadingDifferences } from '@/lib/core/reconstruction/reading-differences';
import type { InputKind } from '@/lib/core/session/file-identity';

/** A waiver or amendment whose rule the draft has no more, or has in other words. */
export type TouchedDisposition = Readonly<{
  rule: string;
  disposition: 'waived' | 'amended';
  change: 'dropped' | 'altered';
}>;

/** One session held against the draft; `fault` says why it could not be read with it. */
export type TrialSession = Readonly<{
  sessionId: string;
  title: string;
  /** What differs; where one session was asked for, what does not as well. */
  differences: ReadingDifferences | null;
  sameRuleCount: number;
  sameStepCount: number;
  /** Steps that rules name and the plan has not, as sentences. */
  unknownSteps: readonly string[];
  dispositions: readonly TouchedDisposition[];
  fault: string | null;
}>;

export type Trial = Readonly<{
  kind: InputKind;
  entryId: string | null;
  title: string;
  /** Of the text that was tried. */
  sha256: string;
  sessions: readonly TrialSession[];
}>;
