/** What is sent to the process that reads a session with a draft, and what comes back. */
import type { ReadingDifferences } from '@/lib/core/reconstruction/reading-differences';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import type { Broken } from '../jobs/child-answer';
import type { StoredInput } from '../jobs/stored-input';

export type TrialRequest = Readonly<{
  /** The session as it is read now. */
  stored: StoredInput;
  /** What the draft puts in place of it. */
  draft: Partial<Pick<StoredInput, 'plan' | 'planSha256' | 'rules' | 'rulesSha256'>>;
  /** The session's newest reconstruction; null where another engine computed it. */
  now: Reconstruction | null;
  samplesRoot: string;
  engine: string;
}>;

export type TrialAnswer = Readonly<{ kind: 'done'; differences: ReadingDifferences }> | Broken;
