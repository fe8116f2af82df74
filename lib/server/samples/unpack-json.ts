/** JSON Lines to delimited text, a row a line, so that lines keep their order and number. */
import { open } from 'node:fs/promises';
import { readJsonRow } from '@/lib/core/intake/json-row';
import type { Issue } from '@/lib/core/result';
import { MOST_COLUMNS } from './column-plan';
import { readBlocks } from './read-blocks';
import { type TextEncoding, textDecoder } from './source-scan';

/** One cell as RFC 4180 has it; line breaks inside become spaces so that a row stays a line. */
function csvCell(cell: string): string {
  const flat = cell.replace(/[\r\n]+/g, ' ');
  return /[",]/.test(flat) ? `"${flat.replaceAll('"', '""')}"` : flat;
}

function csvLine(cells: readonly string[]): string {
  return `${cells.map(csvCell).join(',')}\n`;
}

type JsonFile = Readonly<{ file: string; encoding: TextEncoding }>;

async function* linesOf(
  { file, encoding }: JsonFile,
  signal: AbortSignal | undefined,
): AsyncGenerator<string> {
  // Node's own reader of lines also ends them at U+2028 and U+2029, which JSON texts may hold.
  let carry = '';
  const decoder = textDecoder(encoding);
  for await (const block of await readBlocks(file, { mostBytes: 1 << 20 })) {
    signal?.throwIfAborted();
    const lines = `${carry}${decoder.decode(block, { stream: true })}`.split('\n');
    carry = lines.pop() ?? '';
    for (const line of lines) yield line.replace(/\r$/, '');
  }
  if (carry !== '') yield carry;
}

/** Keys of all lines, in the order met. */
async function keysOf(file: JsonFile, signal: AbortSignal | undefined): Promise<string[]> {
  const keys = new Set<string>();
  for await (const line of linesOf(file, signal)) {
    for (const key of readJsonRow(line)?.keys() ?? []) keys.add(key);
    if (keys.size > MOST_COLUMNS) break;
  }
  return [...keys];
}

/**
 * Writes the rows to `target` under a line of their keys. A line that is no JSON object becomes a
 * row of one cell, which the import then refuses with its line.
 */
export async function unpackJson(
  source: JsonFile & Readonly<{ name: string }>,
  target: string,
  signal: AbortSignal | undefined,
): Promise<Issue | null> {
  const keys = await keysOf(source, signal);
  if (keys.length === 0) {
    return {
      code: 'json-no-rows',
      severity: 'error',
      file: source.name,
      message: 'no line of it is a JSON object that can be read; write one object a line',
      expected: 'one object a line',
    };
  }
  if (keys.length > MOST_COLUMNS) {
    return {
      code: 'too-many-columns',
      severity: 'error',
      file: source.name,
      message: `has more than ${MOST_COLUMNS} different keys; at most so many are read`,
      expected: `at most ${MOST_COLUMNS} keys`,
    };
  }
  const out = await open(target, 'wx');
  try {
    let text = csvLine(keys);
    for await (const line of linesOf(source, signal)) {
      const row = readJsonRow(line);
      if (row !== null) text += csvLine(keys.map((key) => row.get(key) ?? ''));
      else text += line.trim() === '' ? '\n' : csvLine([line]);
      if (text.length > 1 << 20) {
        await out.write(text);
        text = '';
      }
    }
    await out.write(text);
    return null;
  } finally {
    await out.close();
  }
}

/** The header and rows that the first lines give; null where none of them is an object. */
export function jsonHead(head: string): string | null {
  const lines = head.split(/\r?\n/).slice(0, -1);
  const rows = lines.map(readJsonRow);
  const keys = [...new Set(rows.flatMap((row) => [...(row?.keys() ?? [])]))];
  if (keys.length === 0) return null;
  const body = rows.map((row) => csvLine(keys.map((key) => row?.get(key) ?? '')));
  return csvLine(keys) + body.join('');
}
