/** Text that the embedded fonts can set. A document for archives may hold no glyph that is missing. */

/** Makes text settable. */
export type GlyphText = (text: string) => string;

/** Code points that a font has a glyph for. */
export type Coverage = ReadonlySet<number>;

/** White space and marks that are never drawn; the setter deals with them itself. */
const NOT_DRAWN = new Set([0x09, 0x0a, 0x0d, 0x20, 0xa0, 0xad, 0x200b, 0x202f, 0x2060]);

const codeText = (code: number) => `[U+${code.toString(16).toUpperCase().padStart(4, '0')}]`;

/** Characters of a text that no font has, each once, in the order of the text. */
export function missingGlyphs(text: string, coverage: Coverage): readonly string[] {
  const missing = new Set<string>();
  for (const letter of text) {
    const code = letter.codePointAt(0) ?? 0;
    if (!NOT_DRAWN.has(code) && !coverage.has(code)) missing.add(letter);
  }
  return [...missing];
}

/** Writes what no font has as its code point in brackets, so that nothing is lost without a word. */
export function glyphText(coverage: Coverage): GlyphText {
  return (text) => {
    let settable = '';
    for (const letter of text) {
      const code = letter.codePointAt(0) ?? 0;
      if (code === 0x202f) settable += '\u00a0';
      else if (NOT_DRAWN.has(code) || coverage.has(code)) settable += letter;
      else settable += codeText(code);
    }
    return settable;
  };
}

/** Letters after which a word may be parted where it is longer than a line of a table; our own choice. */
const LONGEST_WORD = 24;
const ZERO_WIDTH_SPACE = '\u200b';
const LONG_WORD = new RegExp(`[^\\s\u200b]{${LONGEST_WORD + 1},}`, 'gu');

/** Text in which words without end can be parted, as hashes and file names are. */
export function wrapped(text: string): string {
  return text.replace(LONG_WORD, (word) => {
    const letters = [...word];
    const parts: string[] = [];
    for (let at = 0; at < letters.length; at += LONGEST_WORD / 2) {
      parts.push(letters.slice(at, at + LONGEST_WORD / 2).join(''));
    }
    return parts.join(ZERO_WIDTH_SPACE);
  });
}
