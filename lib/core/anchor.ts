/**
 * A stretch of a session that something hangs on: an annotation, a finding, a figure of a document.
 *
 * `fromS` and `toS` are session time (elapsed SI seconds from the session's zero), `fromS <= toS`;
 * an instant has both equal. `channels` are names of traces, empty for the stretch as a whole.
 */
export type Anchor = Readonly<{
  sessionId: string;
  fromS: number;
  toS: number;
  channels: readonly string[];
}>;
