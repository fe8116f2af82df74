/** Sentences of a draft: phrases put together, one after the other. */
import type { Figure } from '../figure';
import type { Phrase } from './build-document';

/** A sentence, or none where the data do not carry one. */
export type Sentence = readonly Phrase[] | null;

/** `a`, `a and b`, `a, b and c`. */
export function listed(parts: readonly (readonly Phrase[])[]): readonly Phrase[] {
  return parts.flatMap((part, index): Phrase[] => {
    if (index === 0) return [...part];
    return [index === parts.length - 1 ? ' and ' : ', ', ...part];
  });
}

/** A label as it stands inside a sentence. */
export function lowered(label: string): string {
  return `${label.charAt(0).toLowerCase()}${label.slice(1)}`;
}

export function known(figure: Figure | null | undefined): boolean {
  return figure?.value !== null && figure?.value !== undefined;
}

/** Sentences with a space between, the absent ones left out. */
export function joinSentences(sentences: readonly Sentence[]): readonly Phrase[] {
  return sentences
    .filter((sentence) => sentence !== null)
    .flatMap((sentence, index): readonly Phrase[] => (index === 0 ? sentence : [' ', ...sentence]));
}
