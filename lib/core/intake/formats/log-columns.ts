/** The columns of a log of events: `event`, `text`, `speaker`, and other names for what was said. */

/** Names that say the same as `text`; common practice, no source. */
const SAID = ['message', 'utterance', 'remark', 'callout', 'words'];

export type LogColumns = Readonly<{
  /** Positions, -1 where there is none. */
  event: number;
  text: number;
  speaker: number;
  /** The name that was taken for `text`; null where the column is called so, or there is none. */
  takenAsText: string | null;
}>;

function plainName(name: string): string {
  return name.trim().toLowerCase();
}

function isSaid(name: string): boolean {
  return SAID.some((word) => plainName(name) === word || plainName(name) === `${word}s`);
}

/** True for a name that is read as a column of a log. */
export function isLogColumn(name: string): boolean {
  return ['event', 'text', 'speaker'].includes(plainName(name)) || isSaid(name);
}

/** Finds them in any case. The event column alone decides rules, so that nothing is taken for it. */
export function findLogColumns(names: readonly string[]): LogColumns {
  const at = (wanted: string): number => names.findIndex((name) => plainName(name) === wanted);
  const [text, other] = [at('text'), names.findIndex(isSaid)];
  const isTaken = text < 0 && other >= 0;
  return {
    event: at('event'),
    text: isTaken ? other : text,
    speaker: at('speaker'),
    takenAsText: isTaken ? (names[other] ?? null) : null,
  };
}
