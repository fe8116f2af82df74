/** What was typed into a form and not kept yet, as this tab of the browser holds it. */
import { readJson } from './checked-answers';

/** By field; a field of several choices has several. */
export type KeptWords = Readonly<{
  words: Readonly<Record<string, readonly string[]>>;
  /** Version of what the words were typed over; null for something new. */
  since: number | null;
}>;

/** The words of a posted form; files, and what the framework adds, are none. */
export function wordsOf(form: FormData): KeptWords['words'] {
  const words = new Map<string, string[]>();
  for (const [name, value] of form) {
    if (typeof value !== 'string' || name.startsWith('$')) continue;
    words.set(name, [...(words.get(name) ?? []), value]);
  }
  return Object.fromEntries(words);
}

/** @returns null for text that no form of ours has kept */
export function readKeptWords(text: string): KeptWords | null {
  return readJson(text, isKeptWords);
}

function isKeptWords(value: unknown): value is KeptWords {
  if (typeof value !== 'object' || value === null) return false;
  if (!('words' in value) || !('since' in value)) return false;
  const { words, since } = value;
  if (since !== null && typeof since !== 'number') return false;
  if (typeof words !== 'object' || words === null) return false;
  return Object.values(words).every(
    (each) => Array.isArray(each) && each.every((word) => typeof word === 'string'),
  );
}
