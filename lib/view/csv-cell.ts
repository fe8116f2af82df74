/**
 * Text that a spreadsheet takes for text.
 *
 * That a cell which starts with = + - @ or a tab or return is run as a formula by spreadsheets, and
 * that an apostrophe before it prevents that, is common practice, no source.
 *
 * @param text words from a file or a person
 */
export function noFormula(text: string): string {
  return /^[\s]*[=+\-@\t\r\uFF1D\uFF0B\uFF0D\uFF20]/.test(text) ? `'${text}` : text;
}

/**
 * Text as a cell of a comma-separated file that people open in a spreadsheet.
 *
 * Source: RFC 4180 (2005), section 2, 5 to 7 for the quotes.
 *
 * @param text words from a file or a person; numbers are written by the caller and stay numbers
 */
export function csvTextCell(text: string): string {
  const harmless = noFormula(text);
  return /[",\r\n]/.test(harmless) ? `"${harmless.replaceAll('"', '""')}"` : harmless;
}
