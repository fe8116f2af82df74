/** Text made safe for HTML, SVG and XML. Everything a person or a file wrote goes through here. */

const NAMED: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Characters that no markup may hold: controls but tab and line feed, and non-characters. */
const FORBIDDEN = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\ufdd0-\ufdef\ufffe\uffff]/g;

/** Half of a surrogate pair alone: not a character. */
const HALF_PAIR = /[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

/** Marks that turn the direction of text: shown by name, so that no text reads other than it is stored. */
const DIRECTION = /[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/g;

/** An end of line as forms (CR LF) and old files (CR alone) write it. */
const LINE_END = /\r\n?/g;

/**
 * Text as it may be shown: ends of line become one line feed, other controls U+FFFD, direction marks
 * their code in brackets, halves of surrogate pairs U+FFFD.
 */
export function plainText(text: string): string {
  return text
    .replace(LINE_END, '\n')
    .replace(HALF_PAIR, '\ufffd')
    .replace(FORBIDDEN, '\ufffd')
    .replace(
      DIRECTION,
      (mark) => `[U+${(mark.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}]`,
    );
}

/** Text for element content or a quoted attribute, never anything but text. */
export function escapeMarkup(text: string): string {
  return plainText(text).replace(/[&<>"']/g, (character) => NAMED[character] ?? '');
}

/** Paragraphs of a plain text: parted by empty lines; an end of line inside one stays in it. */
export function textParagraphs(text: string): readonly string[] {
  return plainText(text)
    .split(/\n(?:[ \t]*\n)+/)
    .map((paragraph) => paragraph.trim())
    .filter((paragraph) => paragraph !== '');
}
