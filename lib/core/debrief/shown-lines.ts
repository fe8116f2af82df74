/** What a file shows, line by line, against what its record makes; what differs is named by its number. */
import type { VerifyLine } from './verify-record';

/** A paragraph, a cell or a line of text, with what it stands under. */
export type ShownLine = Readonly<{ text: string; where: string }>;

/** Most differences that are named; one is enough to know. */
export const MOST_NAMED = 20;

/** White space may be set as a program likes; the words may not. */
export const plainSpaces = (text: string): string => text.replace(/\s+/g, ' ').trim();

type Pair = Readonly<{ shown: string; meant: string }>;

/** The first few characters around the place where two lines part. */
function around({ shown, meant }: Pair, from: number): Pair {
  const cut = (text: string) => text.slice(Math.max(0, from - 20), from + 30);
  return { shown: cut(shown), meant: cut(meant) };
}

function parting({ shown, meant }: Pair): number {
  let at = 0;
  while (at < meant.length && shown[at] === meant[at]) at += 1;
  return at;
}

/** The longest number of the record that stands where two lines part; null where none does. */
function numberAt(pair: Pair, from: number, numbers: readonly string[]): Pair | null {
  let best: Readonly<{ start: number; end: number }> | null = null;
  for (const text of numbers) {
    const start = pair.meant.indexOf(text, Math.max(0, from - text.length));
    const end = start + text.length;
    const isHere = start >= 0 && start <= from && from <= end;
    if (isHere && (best === null || text.length > best.end - best.start)) best = { start, end };
  }
  if (best === null) return null;
  const rest = pair.meant.slice(best.end);
  const to = pair.shown.endsWith(rest) ? pair.shown.length - rest.length : best.end;
  return { shown: pair.shown.slice(best.start, to), meant: pair.meant.slice(best.start, best.end) };
}

function lineDifference(shown: string, meant: ShownLine, numbers: readonly string[]): VerifyLine {
  const pair = { shown, meant: meant.text };
  const from = parting(pair);
  const number = numberAt(pair, from, numbers);
  const { where } = meant;
  const text =
    number === null
      ? `${where}: says "...${around(pair, from).shown}...", the record has "...${around(pair, from).meant}..."`
      : `${where}: shows "${number.shown}", the record has "${number.meant}"`;
  return { gravity: 'differs', text };
}

/**
 * Differences of what is shown.
 *
 * @param shown lines of the file
 * @param meant lines that its record makes
 * @param cited texts of the record's numbers, as the format writes them
 * @returns one for each line that differs, the first 20; empty where all lines agree but for white space
 */
export function shownDifferences(
  shown: readonly ShownLine[],
  meant: readonly ShownLine[],
  cited: readonly string[],
): readonly VerifyLine[] {
  const filled = (lines: readonly ShownLine[]) =>
    lines
      .map(({ text, where }) => ({ text: plainSpaces(text), where }))
      .filter(({ text }) => text !== '');
  const [is, wanted] = [filled(shown), filled(meant)];
  const numbers = [...new Set(cited.map(plainSpaces))].filter((text) => text !== '');
  const lines: VerifyLine[] = [];
  if (is.length !== wanted.length) {
    const text = `it shows ${is.length} lines of text, its record makes ${wanted.length}`;
    lines.push({ gravity: 'differs', text });
  }
  let from = 0;
  while (from < wanted.length && is[from]?.text === wanted[from]?.text) from += 1;
  let [isEnd, end] = [is.length, wanted.length];
  while (end > from && isEnd > from && is[isEnd - 1]?.text === wanted[end - 1]?.text) {
    isEnd -= 1;
    end -= 1;
  }
  for (let at = from; at < Math.max(end, isEnd) && lines.length < MOST_NAMED; at += 1) {
    const [line, want] = [at < isEnd ? is[at] : undefined, at < end ? wanted[at] : undefined];
    if (want === undefined) {
      const added = `"${line?.text.slice(0, 80)}" is not in the record`;
      lines.push({ gravity: 'differs', text: `${line?.where}: ${added}` });
    } else if (line === undefined) {
      const lacking = `"${want.text.slice(0, 80)}" is not shown`;
      lines.push({ gravity: 'differs', text: `${want.where}: ${lacking}` });
    } else if (line.text !== want.text) lines.push(lineDifference(line.text, want, numbers));
  }
  return lines;
}
