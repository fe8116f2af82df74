/**
 * The name of a column on one line: a header cell may hold line breaks, and a session file may name
 * it with them.
 */
export function nameOnOneLine(name: string): string {
  return name.replace(/\s*[\r\n]+\s*/g, ' ');
}
