/** What people say about a stretch of a channel: use it although it looks faulty, or leave it out. */

/**
 * One judgement, session time in s. `keep` overrules the faults found in the channel inside the
 * stretch; `leave-out` takes its samples out of every figure. Of two on one sample the later counts.
 */
export type StretchCorrection = Readonly<{
  source: string;
  /** The column as written in the file. */
  channel: string;
  fromS: number;
  toS: number;
  use: 'keep' | 'leave-out';
  by: string | null;
  reason: string | null;
}>;

/** `kept by Ada: reason`, as far as it is known. */
export function stretchWords({ use, by, reason }: StretchCorrection): string {
  const words = use === 'keep' ? 'kept in the figures' : 'left out';
  const who = by === null ? words : `${words} by ${by}`;
  return reason === null ? who : `${who}: ${reason}`;
}
