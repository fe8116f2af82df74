/** An entry of a log as it stands on the timeline. */
export type LogMark = Readonly<{
  id: string;
  tS: number;
  kind: 'event' | 'said';
  speaker: string | null;
  text: string;
}>;
