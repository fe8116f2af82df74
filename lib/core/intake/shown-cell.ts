/** Characters of a cell or a name that a message repeats: a line without its end may be one cell. */
const LONGEST_SHOWN = 60;

/** The text as a message repeats it; longer than sixty characters it is cut off, and that is seen. */
export function shownCell(text: string): string {
  return text.length > LONGEST_SHOWN ? `${text.slice(0, LONGEST_SHOWN)}…` : text;
}
