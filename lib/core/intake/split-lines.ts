/** Text to lines and rows to cells, by RFC 4180 where quotes are. */

/** One record of delimited text: its cells and the 1-based line on which it starts. */
export type CsvRow = Readonly<{ line: number; cells: readonly string[] }>;

/** Text without its byte order mark. */
export function withoutByteOrderMark(text: string): string {
  return text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
}

/** Lines of a text, whatever ends them (CRLF, LF or CR); no empty line for a last terminator. */
export function splitLines(text: string): readonly string[] {
  const lines = withoutByteOrderMark(text).split(/\r\n|\n|\r/);
  if (lines.at(-1) === '') lines.pop();
  return lines;
}

/** A record over more lines than this is a quote that was never closed. */
const MOST_LINES_OF_A_RECORD = 8;
const OPENS_A_CELL = /(?:^|[,;\t|])\s*"(?:[^"]|"")*$/;
const CLOSES_A_CELL = /^(?:[^"]|"")*"\s*(?:$|[,;\t|])/;

/** True for a line whose last quoted cell goes on in the next. */
export function opensACell(line: string): boolean {
  return OPENS_A_CELL.test(line);
}

/**
 * Whether a quoted cell is open at the end of a line. A quote opens a cell only where the cell begins
 * (spaces before it are let be); elsewhere it is an ordinary character: `5" pipe`.
 *
 * @param before whether one is open at the line's start
 */
export function endsInQuotes(line: string, separator: string, before: boolean): boolean {
  let inQuotes = before;
  let at = 0;
  if (!inQuotes && !line.includes('"')) return false;
  for (;;) {
    if (!inQuotes) {
      while (line[at] === ' ') at += 1;
      inQuotes = line[at] === '"';
      if (inQuotes) at += 1;
    }
    if (inQuotes) {
      let quote = line.indexOf('"', at);
      while (quote >= 0 && line[quote + 1] === '"') quote = line.indexOf('"', quote + 2);
      if (quote < 0) return true;
      inQuotes = false;
      at = quote + 1;
    }
    const next = line.indexOf(separator, at);
    if (next < 0) return false;
    at = next + separator.length;
  }
}

/**
 * Lines with those of a record whose quoted cells hold line ends put together on the last of them;
 * the others are left blank, so that every line keeps its number.
 */
export function joinQuoted(lines: readonly string[]): readonly string[] {
  if (!lines.some((line) => OPENS_A_CELL.test(line))) return lines;
  const joined = [...lines];
  for (let from = 0; from < joined.length; from += 1) {
    let text = joined[from] ?? '';
    for (
      let to = from + 1;
      OPENS_A_CELL.test(text) && to <= from + MOST_LINES_OF_A_RECORD;
      to += 1
    ) {
      const next = joined[to];
      if (next === undefined) break;
      text = `${text}\n${next}`;
      if (!CLOSES_A_CELL.test(next) || OPENS_A_CELL.test(text)) continue;
      joined.fill('', from, to);
      joined[to] = text;
      from = to;
    }
  }
  return joined;
}

/**
 * Cells of one physical line.
 *
 * @param line a line without its terminator
 * @param separator one character; a space stands for any run of spaces and tabs
 * @returns the cells, quotes taken off; null where a quote stays open at the line's end
 */
export function splitCells(line: string, separator: string): readonly string[] | null {
  if (separator === ' ') return splitWords(line);
  if (!line.includes('"')) return line.split(separator);
  const rows = [...readCsvRows(line, separator)];
  const row = rows[0];
  return row === undefined || row.isOpen ? null : row.cells;
}

/** Cells between runs of spaces and tabs; a quoted cell may hold some. */
function splitWords(line: string): readonly string[] | null {
  const cells = line.match(/"(?:[^"]|"")*"(?=[ \t]|$)|[^ \t]+/g) ?? [];
  if (!line.includes('"')) return cells;
  if ((line.match(/"/g)?.length ?? 0) % 2 === 1) return null;
  return cells.map((cell) =>
    /^".*"$/.test(cell) ? cell.slice(1, -1).replaceAll('""', '"') : cell,
  );
}

/**
 * Records of delimited text: quoted cells may hold separators, doubled quotes and line breaks.
 *
 * Spaces belong to the cell. A quote inside an unquoted cell is an ordinary character. `isOpen`
 * marks a record whose last quoted cell was never closed; it reaches to the end of the text.
 *
 * Source: RFC 4180 section 2, rules 1 to 7; LF and CR are taken as line ends too.
 */
export function* readCsvRows(
  text: string,
  separator: string,
): Generator<CsvRow & Readonly<{ isOpen: boolean }>> {
  const source = withoutByteOrderMark(text);
  let index = 0;
  let line = 1;
  while (index < source.length) {
    const cells: string[] = [];
    const startLine = line;
    let isOpen = false;
    for (;;) {
      let cell = '';
      if (source[index] === '"') {
        index += 1;
        for (;;) {
          const quote = source.indexOf('"', index);
          const end = quote < 0 ? source.length : quote;
          const part = source.slice(index, end);
          line += countLineEnds(part);
          cell += part;
          index = end + 1;
          if (quote < 0) {
            isOpen = true;
            break;
          }
          if (source[index] !== '"') break;
          cell += '"';
          index += 1;
        }
      }
      const start = index;
      while (index < source.length) {
        const character = source[index];
        if (character === separator || character === '\n' || character === '\r') break;
        index += 1;
      }
      cells.push(cell + source.slice(start, index));
      if (source[index] !== separator || index >= source.length) break;
      index += 1;
    }
    if (source[index] === '\r' && source[index + 1] === '\n') index += 1;
    index += 1;
    line += 1;
    yield { line: startLine, cells, isOpen };
  }
}

function countLineEnds(text: string): number {
  return text.match(/\r\n|\n|\r/g)?.length ?? 0;
}
