/**
 * Tables whose columns stand at fixed places, parted by spaces. Where a cell is empty the words of a
 * row are too few, and only their places tell which column each belongs to.
 */
import { findUnit } from '../units/unit';
import { COMMENT, isNumber } from './find-table';
import { splitCells } from './split-lines';

/** Where a column stands: its first character and the one after its last, 0-based. */
export type Field = readonly [start: number, end: number];

export type FixedTable = Readonly<{
  /** 1-based. */
  headerLine: number;
  rowsAfterLine: number;
  /** One a field; '' where nothing stands over it. */
  names: readonly string[];
  units: readonly (string | null)[] | null;
  fields: readonly Field[];
  /** Cells of the rows that were looked at. */
  rows: readonly (readonly string[])[];
}>;

type Word = Readonly<{ text: string; start: number; end: number }>;

/** Fewer rows show no places. */
const FEWEST_ROWS = 3;
/** Lines between the names and the rows: units, a rule. */
const MOST_BETWEEN = 2;
const RULE = /^[-=_+| ]+$/;
/** A stamp, or a part of one. */
const STAMP = /^\d{1,4}[-:/T.]\d{2}[-:/.\dTZ,+]*$/;

function wordsOf(line: string): readonly Word[] {
  return [...line.matchAll(/\S+/g)].map(({ 0: text, index }) => {
    return { text, start: index, end: index + text.length };
  });
}

function isRow(line: string): boolean {
  const words = wordsOf(line);
  const numbers = words.filter(({ text }) => isNumber(text) || STAMP.test(text)).length;
  return words.length > 1 && 2 * numbers > words.length;
}

function isHeader(line: string): boolean {
  const words = wordsOf(line);
  return words.length > 1 && !words.some(({ text }) => isNumber(text) || STAMP.test(text));
}

/** Runs of places at which some row has a sign. */
function findFields(rows: readonly string[]): readonly Field[] {
  const length = Math.max(...rows.map((row) => row.trimEnd().length));
  const fields: (readonly [number, number])[] = [];
  let start = -1;
  for (let at = 0; at <= length; at += 1) {
    const isFilled = rows.some((row) => (row[at] ?? ' ') !== ' ');
    if (isFilled && start < 0) start = at;
    if (isFilled || start < 0) continue;
    fields.push([start, at]);
    start = -1;
  }
  return fields;
}

/** The fields that a word touches, of fields in their order; `from` is the first that may be. */
function touchedBy({ start, end }: Word, fields: readonly Field[], from: number): Field {
  let first = from;
  while (first < fields.length && (fields[first]?.[1] ?? 0) <= start) first += 1;
  let last = first;
  while (last < fields.length && (fields[last]?.[0] ?? 0) < end) last += 1;
  return [first, last];
}

type Named = Readonly<{ text: string; field: Field; wordEnd: number }>;

/** Words with one space between them are one name; null where they touch more than one field. */
function nameWords(words: readonly Word[], fields: readonly Field[]): readonly Named[] | null {
  const names: Named[] = [];
  for (const word of words) {
    const [first, end] = touchedBy(word, fields, 0);
    if (end - first > 1) return null;
    const field = end > first ? fields[first] : undefined;
    const before = names.at(-1);
    const goesOn = before !== undefined && word.start - before.wordEnd <= 1;
    const isSame = field === undefined || before?.field === field;
    if (goesOn && (isSame || !fields.includes(before.field))) {
      const joined = field ?? before.field;
      names[names.length - 1] = {
        text: `${before.text} ${word.text}`,
        field: joined,
        wordEnd: word.end,
      };
    } else if (before !== undefined && before.field === field) return null;
    else names.push({ text: word.text, field: field ?? [word.start, word.end], wordEnd: word.end });
  }
  return names;
}

type NamedFields = Readonly<{ names: readonly string[]; fields: readonly Field[] }>;

/**
 * Puts names over fields: by their places, or one after the other where there are as many. A name over
 * no field stands over a column that is empty in the rows.
 */
function placeNames(words: readonly Word[], fields: readonly Field[]): NamedFields | null {
  const named = nameWords(words, fields);
  if (named?.length === fields.length) {
    return { names: named.map(({ text }) => text), fields };
  }
  if (named === null) return null;
  const own = named.map(({ field }) => field).filter((field) => !fields.includes(field));
  const all = [...fields, ...own].sort((a, b) => a[0] - b[0]);
  const textOf = (field: Field): string => named.find((each) => each.field === field)?.text ?? '';
  return { names: all.map(textOf), fields: all };
}

/**
 * Cells of a row by the places of its words.
 *
 * @param line without tabs, whose places are not those that a person sees
 * @returns one cell a field, '' for none; null where a word reaches over two fields or two words
 *   stand in one
 */
export function placeCells(line: string, fields: readonly Field[]): readonly string[] | null {
  if (line.includes('\t')) return null;
  const cells = fields.map(() => '');
  let at = 0;
  for (const word of wordsOf(line)) {
    const [first, end] = touchedBy(word, fields, at);
    if (end - first !== 1 || cells[first] !== '') return null;
    cells[first] = word.text;
    at = first;
  }
  return cells;
}

/** Units under the names: as many as are known are more than half of what stands there. */
function unitsOf(line: string, fields: readonly Field[]): readonly (string | null)[] | null {
  const placed = placeNames(wordsOf(line), fields);
  if (placed?.fields.length !== fields.length) return null;
  const bare = placed.names.map((cell) => cell.replace(/^[[(](.*)[\])]$/, '$1').trim());
  const filled = bare.filter((cell) => !/^(?:-*|utc|tai|gps|tt)$/i.test(cell));
  const known = filled.filter((cell) => findUnit(cell) !== null);
  if (known.length === 0 || 2 * known.length <= filled.length) return null;
  return bare.map((cell) => (cell === '' || findUnit(cell) === null ? null : cell));
}

type Head = Readonly<{ header: number; first: number; between: readonly string[] }>;

/** The line of names that rows follow, at most a row of units and a rule between. */
function findHead(lines: readonly string[]): Head | null {
  for (const [header, line] of lines.entries()) {
    if (!isHeader(line.replace(COMMENT, ' '))) continue;
    const after = lines.findIndex((each, at) => at > header && isRow(each));
    const between = lines.slice(header + 1, after).filter((each) => each.trim() !== '');
    if (after > header && between.length <= MOST_BETWEEN) return { header, first: after, between };
  }
  return null;
}

/** The line (1-based) of names over rows of words in spaces; null where there is none such. */
export function namesOverWords(lines: readonly string[]): number | null {
  const head = findHead(lines);
  const rows = head === null ? [] : lines.slice(head.first).filter(isRow);
  return head === null || rows.length < FEWEST_ROWS ? null : head.header + 1;
}

/**
 * Finds a table at fixed places.
 *
 * @param lines the first lines of a file; those that are remarks are passed over
 * @returns null where names or rows leave open which column a word belongs to
 */
export function findFixedTable(lines: readonly string[]): FixedTable | null {
  const head = findHead(lines);
  if (head === null) return null;
  const rows = lines.slice(head.first).filter((line) => line.trim() !== '' && !COMMENT.test(line));
  const header = (lines[head.header] ?? '').replace(COMMENT, (mark) => ' '.repeat(mark.length));
  if (rows.length < FEWEST_ROWS || rows.some((row) => row.includes('\t')) || header.includes('\t'))
    return null;
  const found = placeNames(wordsOf(header), findFields(rows));
  if (found === null) return null;
  const { names, fields } = found;
  const cells = rows.map((row) => placeCells(row, fields));
  const placed = cells.filter((each) => each !== null);
  if (fields.length < 2 || placed.length < cells.length) return null;
  const rest = head.between.filter((line) => !RULE.test(line));
  const units = rest[0] === undefined ? null : unitsOf(rest[0], fields);
  if (rest.length > (units === null ? 0 : 1)) return null;
  const { header: headerAt, first } = head;
  return { headerLine: headerAt + 1, rowsAfterLine: first, names, units, fields, rows: placed };
}

/** How a line is taken apart: by its separator, and by places where a row parted by spaces is short. */
export type RowShape = Readonly<{
  separator: string;
  columns: readonly string[];
  fields?: readonly Field[];
}>;

/** Cells of one line; null where a quote stays open at its end. */
export function cellsOf(
  line: string,
  { separator, columns, fields }: RowShape,
): readonly string[] | null {
  const cells = splitCells(line, separator);
  if (fields === undefined || cells === null || cells.length >= columns.length) return cells;
  return placeCells(line, fields) ?? cells;
}
