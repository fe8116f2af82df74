/** A look at one uploaded file: its head and parts of the rest, never the whole of a large one. */
import { type FileHandle, mkdtemp, open, rm, stat } from 'node:fs/promises';
import path from 'node:path';
import { type Dialect, detectDialect } from '@/lib/core/intake/dialect';
import { type FileKind, findSignature, SIGNATURE_BYTES } from '@/lib/core/intake/file-signature';
import { COMMENT } from '@/lib/core/intake/find-table';
import {
  type FileSketch,
  isLogTable,
  type SketchedTable,
  yamlPart,
} from '@/lib/core/intake/proposal/file-sketch';
import { proposeLineTime } from '@/lib/core/intake/proposal/line-time';
import { proposeTime } from '@/lib/core/intake/proposal/time-proposal';
import { splitLines } from '@/lib/core/intake/split-lines';
import type { Issue } from '@/lib/core/result';
import { sampleParquet } from '../samples/sample-parquet';
import { encodingOfHead } from '../samples/source-scan';
import { textForm } from '../samples/text-form';
import { unpackGzip } from '../samples/unpack-gzip';
import { sketchMessage } from './sketch-message';
import { type Part, ROWS_A_PART, tableOfJson, tableOfRows, tableOfText } from './sketch-table';
import { spokenInTable, spokenInText } from './spoken-ranges';

const HEAD_BYTES = 96 * 1024;
/** Enough to tell a message under remarks. */
const FORM_BYTES = 4096;
const PART_BYTES = 32 * 1024;
/** Parts after the head, spread to the end: some of them are in motion whatever the file begins with. */
const PARTS = 11;
const LINES_OF_A_LOG = 12;
const NO_WORDS = { ownTimes: false, lines: [], spokenRanges: 0, instead: null } as const;
/** What a text has to hold that something is to be read from it. */
const NEEDED = 'it needs a line of column names and rows under it, or lines that begin with a time';
const NO_DIALECT = { separator: null, decimal: null, encoding: null } as const;

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
  let end = head.length;
  for (let index = 1; index <= count; index += 1) {
    const wanted = head.length + Math.round((rest * index) / count) - PART_BYTES;
    const free = Math.max(end, wanted); // parts do not overlap
    const start = free + (free % 2); // two bytes a sign in UTF-16
    const part = await readPart(handle, start, PART_BYTES);
    end = start + part.length;
    parts.push({ text: decode(part), isStart: false, isEnd: end >= bytes });
  }
  return parts;
}

const LOG_ENDINGS = ['.vtt', '.srt'];
const LINE_ENDINGS = ['.txt', '.log'];
const YAML_ENDINGS = ['.yaml', '.yml', '.json'];

const EMPTY = { name: 'empty', instead: 'export it again' };

type Base = Pick<FileSketch, 'file' | 'bytes'>;

/** A file of which nothing more than its kind is seen. */
function nothingOf(base: Base, { name, instead }: FileKind): FileSketch {
  return { ...base, ...NO_WORDS, kind: 'other', said: name, table: null, instead };
}

/** A log where its columns are those of one, else samples; null without a row. */
function sketchTable(base: Base, table: SketchedTable | null, form: string): FileSketch | null {
  if (table === null || (table.cells[0]?.length ?? 0) === 0) return null;
  const isLog = isLogTable(table);
  const said = isLog ? `a log as ${form}` : `${form} of ${table.columns.length} columns`;
  const found = { ...base, ...NO_WORDS, said, table };
  return isLog
    ? { ...found, kind: 'log', spokenRanges: spokenInTable(table) }
    : { ...found, kind: 'table' };
}

/** True where words follow a stamp on the first line that is no remark: a table has its names there. */
function beginsWithStamp(lines: readonly string[]): boolean {
  const [first] = lines.filter((line) => !COMMENT.test(line));
  return first !== undefined && /\p{L}{2}/u.test(first) && proposeLineTime([first]) !== null;
}

/** True where words follow a stamp on a third of the lines, whatever stands above the first of them. */
function hasStampedWords(lines: readonly string[]): boolean {
  const worded = lines.filter((line) => (line.match(/\p{L}{2}/gu)?.length ?? 0) > 1);
  return proposeLineTime(worded) !== null;
}

/** What a text is that is neither a table with rows nor a log. */
function textWithout(lines: readonly string[], dialect: Dialect | null): string {
  if (lines.length === 0) return 'nothing but blank lines';
  const count = dialect?.columns.length ?? 0;
  return lines.length === 1 && count > 1
    ? `a header of ${count} columns without a row under it`
    : 'text without a table';
}

function sketchText(base: Base, parts: readonly Part[]): FileSketch {
  const head = parts[0]?.text ?? '';
  const lines = splitLines(head)
    .filter((line) => line.trim() !== '')
    .slice(0, LINES_OF_A_LOG);
  const ending = path.extname(base.file).toLowerCase();
  const other = { ...base, ...NO_WORDS, table: null, lines };
  const spoken = (): number => spokenInText(parts.map(({ text }) => text).join('\n\n'), base.file);
  if (YAML_ENDINGS.includes(ending)) {
    const kind = yamlPart(head);
    if (kind !== null) return { ...other, kind, said: `the ${kind}` };
    const said = 'YAML or JSON that is no plan and no rules';
    return { ...other, kind: 'other', said, instead: NEEDED };
  }
  if (LOG_ENDINGS.includes(ending)) {
    return { ...other, kind: 'log', said: 'a log with cues', spokenRanges: spoken() };
  }
  if (textForm(Buffer.from(head)) === 'json-lines') {
    const found = sketchTable(base, tableOfJson(parts), 'JSON Lines');
    const said = 'JSON without a row a line';
    return found ?? { ...other, kind: 'other', said, instead: 'write one object a line' };
  }
  const log = (): FileSketch => {
    return { ...other, kind: 'log', said: 'lines with stamps', spokenRanges: spoken() };
  };
  if (LINE_ENDINGS.includes(ending) && beginsWithStamp(lines)) return log();
  const dialect = detectDialect(head, NO_DIALECT).value;
  const table = dialect === null ? null : tableOfText(parts, dialect);
  const found = sketchTable(base, table, 'a table');
  const isChance = found?.kind === 'table' && table !== null && proposeTime(table) === null;
  if (LINE_ENDINGS.includes(ending) && isChance && hasStampedWords(lines)) return log();
  if (found !== null) return found.kind === 'log' ? { ...found, lines } : found;
  const stamped = lines.filter((line) => /^\s*[[(]?[+-]?\d[\d:T .-]*\d/.test(line)).length;
  if (stamped > 0 && stamped >= lines.length / 3) return log();
  return { ...other, kind: 'other', said: textWithout(lines, dialect), instead: NEEDED };
}

/** Work in a folder beside the files that goes with it. */
async function inScratch<T>(folder: string, work: (scratch: string) => Promise<T>): Promise<T> {
  const scratch = await mkdtemp(path.join(path.dirname(folder), '.sketch-'));
  try {
    return await work(scratch);
  } finally {
    await rm(scratch, { recursive: true, force: true });
  }
}

/** A Parquet file has rows where a text has lines. */
function rowNumbers(rows: readonly unknown[] | undefined): readonly number[] {
  return rows?.map((_, at) => at + 1) ?? [];
}

function sketchParquet(folder: string, base: Base): Promise<FileSketch> {
  return inScratch(folder, async (scratch) => {
    const source = { file: path.join(folder, base.file), folder: scratch };
    const sample = await sampleParquet(source, { rowsABlock: ROWS_A_PART, blocks: PARTS + 1 });
    const table =
      sample === null
        ? null
        : tableOfRows(sample.columns, sample.blocks, rowNumbers(sample.blocks[0]));
    const said = { name: 'a Parquet file that cannot be read', instead: 'write it again' };
    return sketchTable(base, table, 'a Parquet table') ?? nothingOf(base, said);
  });
}

/** Looks at a file that is not packed with gzip, or not any more. */
async function sketchPlain(folder: string, file: string): Promise<FileSketch> {
  const handle = await open(path.join(folder, file), 'r');
  try {
    const { size: bytes } = await handle.stat();
    const base = { file, bytes };
    if (bytes === 0) return nothingOf(base, EMPTY);
    const start = await readPart(handle, 0, SIGNATURE_BYTES);
    if (textForm(start) === 'parquet') return await sketchParquet(folder, base);
    if (textForm(await readPart(handle, 0, FORM_BYTES)) === 'ccsds') {
      return await sketchMessage(folder, base);
    }
    const signature = findSignature(start.toString('latin1'));
    if (signature !== null) return nothingOf(base, signature);
    return sketchText(base, await readParts(handle, bytes));
  } finally {
    await handle.close();
  }
}

/** A gzip archive that is not unpacked, and what to do instead. */
function packedFault({ code, message }: Issue): FileKind {
  if (code !== 'gzip-too-large') return { name: 'a broken gzip archive', instead: 'send it again' };
  const [what = '', instead = ''] = message.split('; ');
  return { name: `a gzip archive that ${what}`, instead };
}

/** Looks at what is packed; the sketch is of the packed file. */
function sketchGzip(folder: string, base: Base): Promise<FileSketch> {
  const { file, bytes } = base;
  return inScratch(folder, async (scratch) => {
    const bare = path.basename(file).replace(/\.gz$/i, '');
    // `..gz` without its ending leads to another folder.
    const name = /[^.]/.test(bare) ? bare : 'unpacked';
    const packed = { file: path.join(folder, file), name: file, bytes };
    const broken = await unpackGzip(packed, path.join(scratch, name), undefined);
    if (broken !== null) {
      return nothingOf(base, packedFault(broken));
    }
    const inner = await sketchPlain(scratch, name);
    return { ...inner, ...base, said: `${inner.said}, packed with gzip` };
  });
}

/**
 * Looks at one file.
 *
 * @param folder where it lies; `file` is its name below that
 * @returns what it seems to be, with rows of a table; never an error for what is in it
 */
export async function sketchFile(folder: string, file: string): Promise<FileSketch> {
  const handle = await open(path.join(folder, file), 'r');
  const start = await readPart(handle, 0, SIGNATURE_BYTES).finally(() => handle.close());
  if (textForm(start) !== 'gzip') return sketchPlain(folder, file);
  const { size: bytes } = await stat(path.join(folder, file));
  return sketchGzip(folder, { file, bytes });
}
