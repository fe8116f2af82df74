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

/** A part with the marks that close it, empty where none do. */
type GluedPart = Readonly<{ part: SentencePart; marks: string }>;

const marksOf = (text: string): string => /^[.,;:)]+/.exec(text)?.[0] ?? '';

/** Figures and links with the marks that follow them, taken off the text after: no line begins with one. */
export function gluedParts(sentence: Sentence): readonly GluedPart[] {
  return sentence.map((part, index) => {
    const before = sentence[index - 1];
    const after = sentence[index + 1];
    if (typeof part !== 'string') {
      return { part, marks: typeof after === 'string' ? marksOf(after) : '' };
    }
    const isAfterFigure = before !== undefined && typeof before !== 'string';
    return { part: isAfterFigure ? part.slice(marksOf(part).length) : part, marks: '' };
  });
}
