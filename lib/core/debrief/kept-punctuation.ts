/** Punctuation that stays on the line of the number before it: a line never begins with a comma. */
import type { Run } from './resolved';

/** A run, and what of the text after it must not be parted from it. */
export type KeptRun = Readonly<{ run: Run; after: string }>;

const CLOSING = /^[,.;:!?)\]\u2019\u201d]+/;

/** Moves closing punctuation from plain text to the number that it follows; no character is lost. */
export function keepPunctuation(runs: readonly Run[]): readonly KeptRun[] {
  const kept: { run: Run; after: string }[] = [];
  for (const run of runs) {
    const last = kept.at(-1);
    const isPlain = run.kind === 'text' && run.marks.length === 0 && run.href === null;
    const after = isPlain && last?.run.kind === 'number' ? (CLOSING.exec(run.text)?.[0] ?? '') : '';
    if (after === '' || last === undefined || run.kind !== 'text') {
      kept.push({ run, after: '' });
      continue;
    }
    last.after = after;
    const rest = run.text.slice(after.length);
    if (rest !== '') kept.push({ run: { ...run, text: rest }, after: '' });
  }
  return kept;
}
