/** A sentence whose numbers can be opened: text and figures in turn. */
import type { FigureView } from './figure-view';

export type SentenceLink = Readonly<{ text: string; href: string }>;
export type SentencePart = string | FigureView | SentenceLink;
export type Sentence = readonly SentencePart[];

/** The sentence as plain text: for a title, a test, a reader without links. */
export function sentenceText(sentence: Sentence): string {
  return sentence
    .map((part) => (typeof part === 'string' ? part : part.text))
    .join('')
    .replaceAll('\u00a0', ' ');
}

/** `a`, `a and b`, `a, b and c` for lists whose items are parts of a sentence. */
export function listParts(items: readonly Sentence[]): Sentence {
  return items.flatMap((item, index) => {
    if (index === 0) return item;
    return [index === items.length - 1 ? ' and ' : ', ', ...item];
  });
}
