/**
 * Files of one source that hold other channels of the same stretch (one channel a file, or a few), as
 * one long text: a row a sample, with its stamp, its channel's name and its value.
 */
import { open } from 'node:fs/promises';
import path from 'node:path';
import { COMMENT } from '@/lib/core/intake/find-table';
import { endsInQuotes, splitCells } from '@/lib/core/intake/split-lines';
import type { Issue } from '@/lib/core/result';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import type { LinePlaces } from './line-places';
import type { Part } from './part-order';
import { plainDialect } from './plain-copy';
import { readBlocks } from './read-blocks';
import type { SourceHead } from './source-head';
import type { Unpacking } from './unpack-source';

const NAME = 'channel of a file';
const VALUE = 'value of a channel';

function channelsOf({ head }: Part): readonly string[] {
  const { columns } = head.dialect;
  return columns.filter((name) => !head.spec.time.columns.includes(name));
}

/** True where every file has the stamps, and no channel stands in two of them. */
export function holdOtherChannels(parts: readonly Part[]): boolean {
  const all = parts.flatMap(channelsOf);
  const isStamped = ({ head }: Part) =>
    head.spec.time.columns.every((name) => head.dialect.columns.includes(name));
  const isWide = ({ head }: Part) => head.spec.layout === 'wide' && head.spec.channels.length > 1;
  return new Set(all).size === all.length && parts.every(isStamped) && parts.every(isWide);
}

/** Stamps of all files must be of one kind. */
export function timesFault(first: Part, other: Part): Issue | null {
  const [ours, theirs] = [first.head.spec.time, other.head.spec.time];
  if (ours.code === theirs.code && ours.scale === theirs.scale) return null;
  return {
    code: 'parts-differ',
    severity: 'error',
    file: other.name,
    line: other.head.dialect.headerLine,
    message: `must have its times as ${first.name} to make one source with it; they are ${theirs.code} on ${theirs.scale} here and ${ours.code} on ${ours.scale} there`,
    expected: ours.code,
    received: theirs.code,
  };
}

type Row = Readonly<{ text: string; lines: number }>;

/** Rows of a plain text below its header; a quoted cell may go on over lines. */
async function* rowsOf(file: string, { separator, rowsAfterLine }: SourceHead['dialect']) {
  let carry = '';
  let line = 0;
  let held: string[] = [];
  let isOpen = false;
  const take = (text: string): Row | null => {
    line += 1;
    if (line <= rowsAfterLine) return null;
    held.push(text);
    isOpen = endsInQuotes(text, separator, isOpen);
    if (isOpen) return null;
    const row = { text: held.join('\n'), lines: held.length };
    held = [];
    return row;
  };
  for await (const block of await readBlocks(file, { mostBytes: 1 << 20, encoding: 'utf8' })) {
    const lines = `${carry}${block}`.split('\n');
    carry = lines.pop() ?? '';
    for (const text of lines) {
      const row = take(text.replace(/\r$/, ''));
      if (row !== null) yield row;
    }
  }
  const last = carry === '' ? null : take(carry);
  if (last !== null) yield last;
  if (isOpen) yield { text: held.join('\n'), lines: held.length };
}

function quoted(cell: string): string {
  return /[",\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}

type Column = Readonly<{ name: string; index: number; stamps: readonly number[] }>;

/** One row of a file as a sample of one of its columns, on as many lines as it had. */
function sampleLine({ text, lines }: Row, { head }: Part, column: Column): string {
  const blank = '\n'.repeat(lines);
  if (text.trim() === '') return blank;
  if (COMMENT.test(text)) return `${text}\n`;
  const { separator, columns, decimal } = plainDialect(head.dialect);
  const cells = splitCells(text, separator);
  // No row: as one cell it is rejected with its text, whatever it looks like.
  if (cells?.length !== columns.length)
    return `${quoted(`${text},`.replaceAll('\n', ' '))}${blank}`;
  const value = cells[column.index] ?? '';
  const plain = decimal === ',' ? value.replace(',', '.') : value;
  const stamps = column.stamps.map((at) => (cells[at] ?? '').trim());
  return `${[...stamps, column.name, plain].map((cell) => quoted(cell.replaceAll('\n', ' '))).join(',')}${blank}`;
}

/** The file a part's rows are read from, and the part. */
export type PlainPart = Readonly<{ part: Part; file: string }>;

async function writeSamples(
  parts: readonly PlainPart[],
  wanted: ReadonlySet<string>,
  target: string,
) {
  const out = await open(target, 'wx');
  const places: LinePlaces[number][] = [];
  const [first] = parts;
  const stampNames = first?.part.head.spec.time.columns ?? [];
  let lines = 1;
  try {
    await out.write(`${[...stampNames, NAME, VALUE].map(quoted).join(',')}\n`);
    for (const { part, file } of parts) {
      const { dialect } = part.head;
      const stamps = stampNames.map((name) => dialect.columns.indexOf(name));
      for (const name of channelsOf(part).filter((each) => wanted.has(each))) {
        const column = { name, index: dialect.columns.indexOf(name), stamps };
        const shift = lines - dialect.rowsAfterLine;
        places.push(
          ...part.source.places.map((place) => ({
            fromLine: Math.max(lines + 1, place.fromLine + shift),
            file: part.name,
            shift: place.shift + shift,
          })),
        );
        let text = '';
        for await (const row of rowsOf(file, plainDialect(dialect))) {
          text += sampleLine(row, part, column);
          lines += row.lines;
          if (text.length < 1 << 20) continue;
          await out.write(text);
          text = '';
        }
        await out.write(text);
      }
    }
  } finally {
    await out.close();
  }
  return places;
}

/** Columns that nobody described stay in the files alone. */
function leftOutNotes(parts: readonly Part[], wanted: ReadonlySet<string>, file: string): Issue[] {
  const out = parts.flatMap((part) =>
    channelsOf(part)
      .filter((name) => !wanted.has(name))
      .map((name) => `${name} (${part.name})`),
  );
  if (out.length === 0) return [];
  const more = out.length > 8 ? ` and ${out.length - 8} more` : '';
  const message = `its files hold other channels of the same times and are joined by them; columns that are not described are left out: ${out.slice(0, 8).join(', ')}${more}`;
  return [{ code: 'columns-left-out', severity: 'note', file, message }];
}

export type JoinedColumns = Readonly<{
  target: string;
  head: SourceHead;
  places: LinePlaces;
  issues: readonly Issue[];
}>;

/**
 * Writes the described channels of all files, one after the other, as one long text.
 *
 * @param parts files for which `holdOtherChannels` is true, as plain text
 */
export async function joinColumns(
  parts: readonly PlainPart[],
  spec: TelemetrySpec,
  how: Unpacking,
): Promise<JoinedColumns> {
  const wanted = new Set(spec.channels.map(({ column }) => column));
  const target = path.join(how.folder, 'joined.csv');
  const places = await writeSamples(parts, wanted, target);
  const all = parts.map(({ part }) => part);
  // Units may stand in the file that has the channel.
  const channels = spec.channels.map((channel) => {
    const owner = all.find((part) => channelsOf(part).includes(channel.column));
    return owner?.head.spec.channels.find(({ column }) => column === channel.column) ?? channel;
  });
  const time = all[0]?.head.spec.time ?? spec.time;
  const columns = [...time.columns, NAME, VALUE];
  return {
    target,
    places,
    issues: leftOutNotes(all, wanted, spec.file),
    head: {
      encoding: 'utf-8',
      issues: [],
      spec: { ...spec, time, channels, layout: 'long', nameColumn: NAME, valueColumn: VALUE },
      dialect: {
        separator: ',',
        decimal: '.',
        quote: '"',
        headerLine: 1,
        rowsAfterLine: 1,
        columns,
        repeated: [],
        units: null,
        leastCells: columns.length,
      },
    },
  };
}
