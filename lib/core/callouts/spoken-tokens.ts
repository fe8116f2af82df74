/** Spoken lines taken apart: words, numbers as written, marks. */

/** `text` is lower case; `raw` as written, for capitals. */
export type Token = Readonly<{ kind: 'word' | 'number' | 'mark'; text: string; raw: string }>;

const PATTERN =
  /\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+(?:[.,]\d+)?|\.\d+|[½¼¾]|[A-Za-zÀ-ɏ]+(?:['’][A-Za-z]+)?|--?|[^\s\w]/g;

/**
 * Tokens of a spoken line.
 *
 * A number keeps its decimals and thousands separators; a letter right behind it (`50m`) is a token
 * of its own. Speech broken off (`- -`, `...`) leaves its marks.
 */
export function readTokens(text: string): readonly Token[] {
  return [...text.matchAll(PATTERN)].map(([raw]) => {
    const kind =
      /^[.\d½¼¾]/.test(raw) && /[\d½¼¾]/.test(raw)
        ? 'number'
        : /^[A-Za-zÀ-ɏ]/.test(raw)
          ? 'word'
          : 'mark';
    return { kind, raw, text: raw.toLowerCase().replace('’', "'") };
  });
}

/** Stretches of tokens: a sentence runs to a full stop, a question or an exclamation mark. */
export type Sentence = Readonly<{ tokens: readonly Token[]; isQuestion: boolean }>;

/**
 * Words and marks after which a stretch without a full stop is cut: nobody says more in one breath, and
 * each word of a sentence is held against the others. Our own choice.
 */
const LONGEST_SENTENCE = 150;

/**
 * Sentences of a spoken line.
 *
 * @param tokens from `readTokens`
 * @returns sentences without their end marks, none empty, none over 150 tokens; the last one may be
 *   broken off
 */
export function splitSentences(tokens: readonly Token[]): readonly Sentence[] {
  const sentences: Sentence[] = [];
  let start = 0;
  tokens.forEach((token, index) => {
    const isEnd = token.kind === 'mark' && ['.', '!', '?', ';'].includes(token.text);
    if (!isEnd && index - start >= LONGEST_SENTENCE) {
      sentences.push({ tokens: tokens.slice(start, index), isQuestion: false });
      start = index;
    }
    if (!isEnd) return;
    sentences.push({ tokens: tokens.slice(start, index), isQuestion: token.text === '?' });
    start = index + 1;
  });
  if (start < tokens.length) sentences.push({ tokens: tokens.slice(start), isQuestion: false });
  return sentences.filter((sentence) => sentence.tokens.length > 0);
}

/** True for the marks that end a clause inside a sentence. */
export function isClauseMark(token: Token | undefined): boolean {
  return (
    token !== undefined && token.kind === 'mark' && [',', ':', '--', '–', '—'].includes(token.text)
  );
}
