/**
 * Signs that no name, title or sentence needs and that show something else than what is there:
 * controls but tab and line ends, signs that turn the direction of writing, halves of characters.
 *
 * Source: Unicode Technical Report 36, "Unicode Security Considerations", section 2.5 (bidirectional
 * text spoofing), for the signs of direction; marks that only order (U+200E, U+200F) are let be.
 */
const HIDDEN =
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069\p{Surrogate}]/u;
const ALL_HIDDEN = new RegExp(HIDDEN.source, 'gu');

/** The first such sign as `U+202E`; null where a text has none. */
export function findHiddenSign(text: string): string | null {
  const found = HIDDEN.exec(text)?.[0];
  if (found === undefined) return null;
  const code = found.codePointAt(0) ?? 0;
  return `U+${code.toString(16).toUpperCase().padStart(4, '0')}`;
}

/** The text without such signs. */
export function withoutHiddenSigns(text: string): string {
  return text.replace(ALL_HIDDEN, '');
}

/** Plain data whose texts, keys of mappings left alone, are without such signs. */
export function dataWithoutHiddenSigns(data: unknown): unknown {
  if (typeof data === 'string') return withoutHiddenSigns(data);
  if (Array.isArray(data)) return data.map(dataWithoutHiddenSigns);
  const isPlain = typeof data === 'object' && data !== null && isPlainObject(data);
  if (!isPlain) return data;
  const entries = Object.entries(data);
  return Object.fromEntries(entries.map(([key, value]) => [key, dataWithoutHiddenSigns(value)]));
}

function isPlainObject(data: object): boolean {
  const prototype: unknown = Object.getPrototypeOf(data);
  return prototype === Object.prototype || prototype === null;
}
