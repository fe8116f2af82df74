/** One line of JSON Lines as the cells of a table. */

/** Whole numbers of so many digits lose some of them in a double; they are kept as text. */
const LONG_NUMBER = /([:[,]\s*)(-?\d{16,})(?=\s*[,}\]])/g;

/** Deeper than this nothing is looked into. */
const MOST_LEVELS = 8;

function parseObject(text: string): object | null {
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === 'object' && value !== null && !Array.isArray(value) ? value : null;
  } catch {
    // No JSON: the caller refuses the line.
    return null;
  }
}

function addCells(cells: Map<string, string>, path: string, value: unknown, level: number): void {
  if (typeof value === 'object' && value !== null && level < MOST_LEVELS) {
    for (const [key, inner] of Object.entries(value)) {
      addCells(cells, path === '' ? key : `${path}.${key}`, inner, level + 1);
    }
  } else if (typeof value === 'string' || typeof value === 'number') cells.set(path, String(value));
  else if (typeof value === 'boolean') cells.set(path, value ? '1' : '0');
  else if (value === null) cells.set(path, '');
}

/**
 * Cells of one line.
 *
 * @param line one JSON object; objects and lists inside it become `outer.inner` and `list.0`
 * @returns text of each value by its key, true and false as 1 and 0, null as ''; null where the line
 *   is no JSON object
 *
 * Source: jsonlines.org.
 */
export function readJsonRow(line: string): ReadonlyMap<string, string> | null {
  const quoted = line.replace(LONG_NUMBER, '$1"$2"');
  // A long number inside a string makes the quoted form no JSON; the line itself is then taken.
  const value = (quoted === line ? null : parseObject(quoted)) ?? parseObject(line);
  if (value === null) return null;
  const cells = new Map<string, string>();
  addCells(cells, '', value, 0);
  return cells;
}
