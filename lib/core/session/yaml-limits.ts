/**
 * What a YAML or JSON file may cost. The parser takes time and memory for every sign of structure
 * (measured: 900,000 colons took 2.5 GB, 900,000 commas 15 s) and recurses into every bracket, so
 * a file is measured before it is parsed, in one pass over its characters that keeps nothing.
 */

/** Characters of a file. Source: our own choice; 1,000 rules take some 200,000. */
const MAX_CHARACTERS = 1_000_000;

/** Levels of lists and mappings. Source: our own choice; the deepest key of the schemas has 8. */
export const MAX_DEPTH = 32;

/** Uses of aliases, counted as they multiply. Source: our own choice. */
export const MAX_ALIASES = 100;

/**
 * Brackets, commas, colons, quotes, line ends and the like. Source: our own choice; 1,000 rules
 * have some 13,000, and a file at the limit is parsed in a second or two and 0.2 GB.
 */
const MAX_MARKS = 50_000;

/**
 * Brackets open at once, those in texts and comments included. The parser's own count of levels
 * is exact and follows; this one only keeps it from recursing without end.
 */
const MAX_OPEN_BRACKETS = 100;

/** `- - - a` and `? ? a` nest without a bracket, on one line. */
const NESTED_ON_A_LINE = new RegExp(`^(?:[-?:][ \\t]+){${MAX_DEPTH + 1}}`, 'm');

const OPENING = new Set(['[', '{']);
const CLOSING = new Set([']', '}']);
const MARKS = new Set(['[', ']', '{', '}', ',', ':', '"', "'", '&', '*', '!', '?', '\n', '\r']);

export type YamlExcess = Readonly<{ code: string; message: string; expected: string }>;

const TOO_DEEP: YamlExcess = {
  code: 'yaml-too-deep',
  message: `nested deeper than ${MAX_DEPTH} levels`,
  expected: `at most ${MAX_DEPTH} levels`,
};

/**
 * Measures a file before it is parsed.
 *
 * @param text the whole file
 * @returns the first limit that it breaks; null where it can be parsed
 */
export function findExcess(text: string): YamlExcess | null {
  if (text.length > MAX_CHARACTERS) {
    return {
      code: 'file-too-large',
      message: `${text.length} characters are too many for such a file, at most ${MAX_CHARACTERS} are read`,
      expected: `at most ${MAX_CHARACTERS} characters`,
    };
  }
  let open = 0;
  let marks = 0;
  for (const sign of text) {
    if (!MARKS.has(sign)) continue;
    marks += 1;
    if (OPENING.has(sign)) open += 1;
    else if (CLOSING.has(sign)) open = Math.max(0, open - 1);
    if (open > MAX_OPEN_BRACKETS) return TOO_DEEP;
  }
  if (NESTED_ON_A_LINE.test(text)) return TOO_DEEP;
  if (marks <= MAX_MARKS) return null;
  return {
    code: 'file-too-large',
    message: `${marks} signs of structure (brackets, commas, colons, quotes, line ends) are too many for such a file, at most ${MAX_MARKS} are read`,
    expected: `at most ${MAX_MARKS} signs of structure`,
  };
}
