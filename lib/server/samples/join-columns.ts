/**
 * Files of one source that hold other channels of the same stretch (one channel a file, or a few), as
 * one long text: a row a sample, with its stamp, its channel's name and its value.
 */
import { appendFile, open, rm } from 'node:fs/promises';
import path from 'node:path';
import { COMMENT } from '@/lib/core/intake/find-table';
import { endsInQuotes, splitCells } from '@/lib/core/intake/split-lines';
import type { Issue } from '@/lib/core/result';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import { type LinePlaces, movedPlaces } from './line-places';
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

/** A row over this is none: its lines are read one by one. */
const MOST_OF_ROW = 500_000;

const eachLine = (held: readonly string[]): readonly Row[] =>
  held.map((text) => ({ text, lines: 1 }));

/** Rows of a plain text below its header; a quoted cell may go on over lines. */
async function* rowsOf(file: string, { separator, rowsAfterLine }: SourceHead['dialect']) {
  let carry = '';
  let line = 0;
  let held: string[] = [];
  let heldLength = 0;
  let isOpen = false;
  const take = (text: string): readonly Row[] => {
    line += 1;
    if (line <= rowsAfterLine) return [];
    held.push(text);
    heldLength += text.length;
    isOpen = endsInQuotes(text, separator, isOpen);
    if (isOpen && heldLength <= MOST_OF_ROW) return [];
    const rows = isOpen ? eachLine(held) : [{ text: held.join('\n'), lines: held.length }];
    held = [];
    heldLength = 0;
    isOpen = false;
    return rows;
  };
  for await (const block of await readBlocks(file, { mostBytes: 1 << 20, encoding: 'utf8' })) {
    const lines = `${carry}${block}`.split('\n');
    carry = lines.pop() ?? '';
    for (const text of lines) yield* take(text.replace(/\r$/, ''));
  }
  if (carry !== '') yield* take(carry);
  yield* eachLine(held);
}

function quoted(cell: string): string {
  return /[",\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}

type Columns = Readonly<{ stamps: readonly number[]; channels: readonly Channel[] }>;
type Channel = Readonly<{ name: string; index: number }>;

/** One row of a file as a sample of each channel, on as many lines as it had. */
function sampleLines(
  { text, lines }: Row,
  { head }: Part,
  { stamps, channels }: Columns,
): readonly string[] {
  const blank = '\n'.repeat(lines);
  if (text.trim() === '') return channels.map(() => blank);
  if (COMMENT.test(text)) return channels.map(() => `${text}\n`);
  const { separator, columns, decimal } = plainDialect(head.dialect);
  const cells = splitCells(text, separator);
  // No row: as one cell it is rejected with its text, whatever it looks like.
  if (cells?.length !== columns.length) {
    const refused = `${quoted(`${text},`.replaceAll('\n', ' '))}${blank}`;
    return channels.map(() => refused);
  }
  const cellOf = (cell: string): string => quoted(cell.replaceAll('\n', ' '));
  const stamp = stamps.map((at) => cellOf((cells[at] ?? '').trim())).join(',');
  return channels.map(({ name, index }) => {
    const value = cells[index] ?? '';
    const plain = decimal === ',' ? value.replace(',', '.') : value;
    return `${stamp},${cellOf(name)},${cellOf(plain)}${blank}`;
  });
}

/** The file a part's rows are read from, and the part. */
export type PlainPart = Readonly<{ part: Part; file: string }>;

/** So many characters of samples are held before they are written. */
const MOST_HELD = 1 << 23;

/** One reading of a file writes a text for each of its channels; all have as many lines. */
async function splitByChannel(
  { part, file }: PlainPart,
  columns: Columns,
  { folder, signal }: Unpacking,
): Promise<Readonly<{ texts: readonly string[]; lines: number }>> {
  const places = columns.channels.map((_, at) => path.join(folder, `channel-${at}.csv`));
  let held = places.map((): string[] => []);
  let heldLength = 0;
  let lines = 0;
  const write = async () => {
    signal?.throwIfAborted();
    for (const [at, place] of places.entries()) await appendFile(place, (held[at] ?? []).join(''));
    held = places.map(() => []);
    heldLength = 0;
  };
  for await (const row of rowsOf(file, plainDialect(part.head.dialect))) {
    for (const [at, text] of sampleLines(row, part, columns).entries()) {
      held[at]?.push(text);
      heldLength += text.length;
    }
    lines += row.lines;
    if (heldLength > MOST_HELD) await write();
  }
  await write();
  return { texts: places, lines };
}

async function writeSamples(
  parts: readonly PlainPart[],
  wanted: ReadonlySet<string>,
  { target, how }: Readonly<{ target: string; how: Unpacking }>,
) {
  const out = await open(target, 'wx');
  const places: LinePlaces[number][] = [];
  const stampNames = parts[0]?.part.head.spec.time.columns ?? [];
  let lines = 1;
  try {
    await out.write(`${[...stampNames, NAME, VALUE].map(quoted).join(',')}\n`);
    for (const plain of parts) {
      const { dialect } = plain.part.head;
      const stamps = stampNames.map((name) => dialect.columns.indexOf(name));
      const channels = channelsOf(plain.part)
        .filter((name) => wanted.has(name))
        .map((name) => ({ name, index: dialect.columns.indexOf(name) }));
      const split = await splitByChannel(plain, { stamps, channels }, how);
      for (const text of split.texts) {
        const shift = lines - dialect.rowsAfterLine;
        places.push(...movedPlaces(plain.part, { fromLine: lines + 1, shift }));
        for await (const block of await readBlocks(text, { mostBytes: 1 << 20 }))
          await out.write(block);
        await rm(text);
        lines += split.lines;
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
  const places = await writeSamples(parts, wanted, { target, how });
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
