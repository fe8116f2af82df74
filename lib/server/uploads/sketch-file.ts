/** A look at one uploaded file: its head and parts of the rest, never the whole of a large one. */
import { type FileHandle, open } from 'node:fs/promises';
import path from 'node:path';
import { type Dialect, detectDialect } from '@/lib/core/intake/dialect';
import { findSignature, SIGNATURE_BYTES } from '@/lib/core/intake/file-signature';
import {
  type FileSketch,
  isLogTable,
  type SketchedTable,
  yamlPart,
} from '@/lib/core/intake/proposal/file-sketch';
import { readCsvRows, splitLines } from '@/lib/core/intake/split-lines';
import { encodingOfHead } from '../samples/source-scan';

const HEAD_BYTES = 96 * 1024;
const PART_BYTES = 32 * 1024;
/** Parts after the head, spread to the end: some of them are in motion whatever the file begins with. */
const PARTS = 11;
const ROWS_A_PART = 600;
const LINES_OF_A_LOG = 12;
const NO_DIALECT = { separator: null, decimal: null, encoding: null } as const;

type Part = Readonly<{ text: string; isStart: boolean; isEnd: boolean }>;

async function readPart(handle: FileHandle, from: number, length: number): Promise<Buffer> {
  const buffer = Buffer.alloc(length);
  const { bytesRead } = await handle.read(buffer, 0, length, from);
  return buffer.subarray(0, bytesRead);
}

/** The head and parts spread over the rest, in the order of the file, decoded. */
async function readParts(handle: FileHandle, bytes: number): Promise<readonly Part[]> {
  const head = await readPart(handle, 0, HEAD_BYTES);
  const found = encodingOfHead(head.subarray(0, head.lastIndexOf(0x0a) + 1));
  const label = found === 'other' ? 'windows-1252' : found;
  const decode = (part: Buffer): string => new TextDecoder(label).decode(part);
  const rest = bytes - head.length;
  const count = Math.min(PARTS, Math.ceil(rest / PART_BYTES));
  const parts: Part[] = [{ text: decode(head), isStart: true, isEnd: rest === 0 }];
  for (let index = 1; index <= count; index += 1) {
    const wanted = Math.max(
      head.length,
      head.length + Math.round((rest * index) / count) - PART_BYTES,
    );
    const start = wanted - (wanted % 2); // two bytes a sign in UTF-16
    const part = await readPart(handle, start, PART_BYTES);
    parts.push({ text: decode(part), isStart: false, isEnd: start + part.length >= bytes });
  }
  return parts;
}

/** Whole rows of a part; a row that the part's edges cut is left out. */
function rowsOf(part: Part, dialect: Dialect): readonly (readonly string[])[] {
  const rows: (readonly string[])[] = [];
  const firstLine = part.isStart ? dialect.rowsAfterLine + 1 : 2;
  const width = dialect.columns.length;
  for (const { line, cells, isOpen } of readCsvRows(part.text, dialect.separator)) {
    if (line < firstLine || isOpen || cells.length !== width) continue;
    rows.push(cells.map((cell) => cell.trim()));
    if (rows.length > ROWS_A_PART) break;
  }
  if (!part.isEnd && rows.length <= ROWS_A_PART) rows.pop();
  return rows.slice(0, ROWS_A_PART);
}

function tableOf(parts: readonly Part[], dialect: Dialect): SketchedTable {
  const rows: (readonly string[])[] = [];
  const blocks: number[] = [];
  for (const part of parts) {
    const own = rowsOf(part, dialect);
    if (own.length > 0) blocks.push(rows.length);
    rows.push(...own);
  }
  return {
    columns: dialect.columns,
    cells: dialect.columns.map((_, column) => rows.map((row) => row[column] ?? '')),
    units: null,
    blocks,
    decimal: dialect.decimal,
    headerLine: dialect.headerLine,
    separator: dialect.separator,
  };
}

const LOG_ENDINGS = ['.vtt', '.srt'];
const YAML_ENDINGS = ['.yaml', '.yml', '.json'];

function sketchText(base: Pick<FileSketch, 'file' | 'bytes'>, parts: readonly Part[]): FileSketch {
  const head = parts[0]?.text ?? '';
  const lines = splitLines(head)
    .filter((line) => line.trim() !== '')
    .slice(0, LINES_OF_A_LOG);
  const ending = path.extname(base.file).toLowerCase();
  const other = { ...base, table: null, lines };
  if (YAML_ENDINGS.includes(ending)) {
    const kind = yamlPart(head);
    const said = kind === null ? 'YAML that is no plan and no rules' : `the ${kind}`;
    return { ...other, kind: kind ?? 'other', said };
  }
  if (LOG_ENDINGS.includes(ending)) return { ...other, kind: 'log', said: 'a log with cues' };
  const dialect = detectDialect(head, NO_DIALECT).value;
  if (dialect !== null) {
    const table = tableOf(parts, dialect);
    const rows = table.cells[0]?.length ?? 0;
    if (rows > 0 && isLogTable(table)) {
      return { ...other, kind: 'log', said: 'a log as a table', table };
    }
    const said = `a table of ${dialect.columns.length} columns`;
    if (rows > 0) return { ...other, kind: 'table', said, table, lines: [] };
  }
  const stamped = lines.filter((line) => /^\s*[[(]?[+-]?\d[\d:T .-]*\d/.test(line)).length;
  if (stamped > 0 && stamped >= lines.length / 3) {
    return { ...other, kind: 'log', said: 'lines with stamps' };
  }
  return { ...other, kind: 'other', said: 'text without a table' };
}

/**
 * Looks at one file.
 *
 * @param folder where it lies; `file` is its name below that
 * @returns what it seems to be, with rows of a table; never an error for what is in it
 */
export async function sketchFile(folder: string, file: string): Promise<FileSketch> {
  const handle = await open(path.join(folder, file), 'r');
  try {
    const { size: bytes } = await handle.stat();
    const base = { file, bytes };
    if (bytes === 0) return { ...base, kind: 'other', said: 'empty', table: null, lines: [] };
    const start = (await readPart(handle, 0, SIGNATURE_BYTES))
      .subarray(0, SIGNATURE_BYTES)
      .toString('latin1');
    const signature = findSignature(start)?.name ?? null;
    if (signature === 'a CCSDS message' || signature === 'XML') {
      return { ...base, kind: 'ephemeris', said: signature, table: null, lines: [] };
    }
    if (signature !== null) {
      return { ...base, kind: 'other', said: signature, table: null, lines: [] };
    }
    return sketchText(base, await readParts(handle, bytes));
  } finally {
    await handle.close();
  }
}
