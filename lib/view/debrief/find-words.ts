/** Words sought in the text of a draft, as places in the editor's document. */
import type { Node } from '@tiptap/pm/model';

/** Places are positions of the editor; the second is after the last letter. */
export type FoundWords = Readonly<{ from: number; to: number }>;

export type Sought = Readonly<{ words: string; case: 'alike' | 'exact' }>;

/** A character that is in no text stands for a live value, so that no find goes across it. */
const VALUE = '\ufffc';

/** Lower case letter by letter, so that places stay: one that would grow stays as it is. */
function folded(text: string): string {
  return Array.from({ length: text.length }, (_, at) => {
    const lower = text.charAt(at).toLowerCase();
    return lower.length === 1 ? lower : text.charAt(at);
  }).join('');
}

/**
 * Finds words in paragraphs, headings, cells and code; across marks, not across live values or blocks.
 *
 * @returns in the order of the text, none overlapping another; empty for no words
 */
export function findWords(doc: Node, sought: Sought): readonly FoundWords[] {
  const fold = sought.case === 'exact' ? (text: string) => text : folded;
  const words = fold(sought.words);
  const found: FoundWords[] = [];
  if (words === '') return found;
  doc.descendants((node, position) => {
    if (!node.isTextblock) return true;
    const text = fold(node.textBetween(0, node.content.size, undefined, VALUE));
    for (let at = text.indexOf(words); at >= 0; at = text.indexOf(words, at + words.length)) {
      const from = position + 1 + at;
      found.push({ from, to: from + words.length });
    }
    return false;
  });
  return found;
}

/** The one at or after a place, else the first; -1 where there is none. */
export function nextFound(found: readonly FoundWords[], from: number): number {
  const at = found.findIndex((each) => each.from >= from);
  return at < 0 && found.length > 0 ? 0 : at;
}
