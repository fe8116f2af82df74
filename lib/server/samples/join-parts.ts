/** The files of one source as one delimited text: in the order of time, or channel by channel. */
import { open } from 'node:fs/promises';
import path from 'node:path';
import { hasErrors, type Issue } from '@/lib/core/result';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import { DAY_S } from '@/lib/core/time/calendar';
import { LONGEST_PAUSE_S, toWholeNanosecond } from '@/lib/core/time/carry-days';
import { type Instant, secondsBetween } from '@/lib/core/time/instant';
import { holdOtherChannels, joinColumns, type PlainPart, timesFault } from './join-columns';
import { type LinePlaces, movedPlaces } from './line-places';
import { type OrderedParts, orderParts, type Part, stampOf } from './part-order';
import { isPlain, plainDialect, writePlainCopy } from './plain-copy';
import { readBlocks } from './read-blocks';
import { readHead, type SourceHead } from './source-head';
import { scanSource } from './source-scan';
import { type ScannedPart, type TextSource, type Unpacking, unpackPart } from './unpack-source';

/** `source` and `head` are null when an issue of severity `error` stands in the way. */
export type Joined = Readonly<{
  source: TextSource | null;
  head: SourceHead | null;
  issues: readonly Issue[];
}>;

type Reading = Readonly<{ spec: TelemetrySpec; zero: Instant }>;

async function openPart(
  part: ScannedPart,
  { spec }: Reading,
  how: Unpacking,
): Promise<Readonly<{ part: Part | null; issues: readonly Issue[] }>> {
  const named = { ...spec, file: part.name };
  const { source, issues } = await unpackPart(part, named, how);
  if (source === null) return { part: null, issues };
  const read = readHead(source.spec, { ...source.scan, units: source.units });
  const all = [...issues, ...read.issues];
  if (read.head === null) return { part: null, issues: all };
  const { name } = part;
  const head = { ...read.head, spec: { ...read.head.spec, file: spec.file } };
  return { part: { name, source, head }, issues: all };
}

function columnsFault(first: Part, other: Part): Issue | null {
  const [ours, theirs] = [first.head.dialect.columns, other.head.dialect.columns];
  const isSame = ours.length === theirs.length && ours.every((name, at) => name === theirs[at]);
  const isAlike =
    first.head.dialect.separator === other.head.dialect.separator &&
    first.head.dialect.decimal === other.head.dialect.decimal;
  if (isSame && isAlike) return null;
  const differing = ours.findIndex((name, at) => name !== theirs[at]);
  const what = isSame
    ? 'its separator or decimal mark is another'
    : `column ${differing + 1} is "${theirs[differing] ?? ''}" here and "${ours[differing] ?? ''}" there`;
  return {
    code: 'parts-differ',
    severity: 'error',
    file: other.name,
    line: other.head.dialect.headerLine,
    message: `must be written as ${first.name} to make one source with it; ${what}`,
    expected: ours.join(', '),
    received: theirs.join(', '),
  };
}

/** A column that one file has in feet and the other in metres by their own rows of units. */
function unitsFault(first: Part, other: Part): Issue | null {
  for (const [at, theirs] of other.head.spec.channels.entries()) {
    const ours = first.head.spec.channels[at];
    if (ours === undefined || (ours.siUnit === theirs.siUnit && ours.toSi === theirs.toSi))
      continue;
    return {
      code: 'parts-differ',
      severity: 'error',
      file: other.name,
      line: other.head.dialect.rowsAfterLine,
      message: `must be written as ${first.name} to make one source with it; "${theirs.column}" is in ${theirs.unit} here and in ${ours.unit} there`,
      expected: ours.unit ?? '',
      received: theirs.unit ?? '',
    };
  }
  return null;
}

/** The text of a part without what stands above its rows; the last filled line of it. */
type Ends = { firstRow: string; lastRow: string; lines: number };

/** Appends a plain text, the first part whole, the others from their rows on. */
async function append(
  out: Awaited<ReturnType<typeof open>>,
  file: string,
  rowsAfterLine: number,
  keeps: 'header' | 'rows',
): Promise<Ends> {
  const ends: Ends = { firstRow: '', lastRow: '', lines: 0 };
  let line = 0;
  let carry = '';
  const take = (text: string) => {
    line += 1;
    const isRow = line > rowsAfterLine;
    if (isRow && text.trim() !== '') {
      if (ends.firstRow === '') ends.firstRow = text;
      ends.lastRow = text;
    }
    if (!isRow && keeps === 'rows') return '';
    ends.lines += 1;
    return `${text}\n`;
  };
  for await (const block of await readBlocks(file, { mostBytes: 1 << 20, encoding: 'utf8' })) {
    const lines = `${carry}${block}`.split('\n');
    carry = lines.pop() ?? '';
    await out.write(lines.map((text) => take(text.replace(/\r$/, ''))).join(''));
  }
  if (carry !== '') await out.write(take(carry));
  return ends;
}

function overlapIssue(before: Part, after: Part, sizeS: number): Issue {
  return {
    code: 'parts-overlap',
    severity: 'warning',
    file: after.name,
    message: `${sizeS === 0 ? `starts with the stamp that ${before.name} ends with` : `starts ${sizeS} s before ${before.name} ends`}; rows that repeat or step back are kept out of the series`,
  };
}

/** How far the second file begins before the first ends, s; under 0 where it begins after. */
function overlapS(lastS: number, firstS: number, ordered: OrderedParts, fromS: number): number {
  const { runs, counts, turns } = ordered;
  const isNight = turns.some(
    ({ beforeS, afterS }) => beforeS === lastS - fromS && afterS === firstS - fromS,
  );
  if (isNight) return -1;
  const overS = runs === 'forwards' ? lastS - firstS : firstS - lastS;
  // More than can be midnight passed the other way.
  return counts === 'times of day' && overS > DAY_S - LONGEST_PAUSE_S ? overS - DAY_S : overS;
}

/** The file of a part as it is, or a plain copy of it. */
async function plainFile(part: Part, index: number, how: Unpacking): Promise<string> {
  if (isPlain(part.source.scan, part.head)) return part.source.file;
  const file = path.join(how.folder, `plain-${index}.csv`);
  await writePlainCopy(part.source.file, file, {
    ...part.head,
    scanned: part.source.scan,
    signal: how.signal,
  });
  return file;
}

/** Files of other channels side by side. */
async function joinBeside(
  parts: readonly Part[],
  first: Part,
  { spec, how }: Readonly<{ spec: TelemetrySpec; how: Unpacking }>,
): Promise<Joined> {
  const faults = parts.flatMap((part) => timesFault(first, part) ?? []);
  if (hasErrors(faults)) return { source: null, head: null, issues: faults };
  const plain: PlainPart[] = [];
  for (const [index, part] of parts.entries()) {
    plain.push({ part, file: await plainFile(part, index, how) });
  }
  const { target, places, head, issues } = await joinColumns(plain, spec, how);
  const scan = await scanSource(target, { signal: how.signal });
  return { source: { ...first.source, file: target, scan, places }, head, issues };
}

async function joinAll(ordered: OrderedParts, zero: Instant, how: Unpacking) {
  const { parts } = ordered;
  const fromS = secondsBetween(zero, parts[0]?.head.spec.time.from ?? zero);
  const target = path.join(how.folder, 'joined.csv');
  const out = await open(target, 'wx');
  const places: LinePlaces[number][] = [];
  const issues: Issue[] = [];
  let lines = 0;
  let before: Readonly<{ part: Part; lastS: number }> | null = null;
  try {
    for (const [index, part] of parts.entries()) {
      const { dialect } = part.head;
      const file = await plainFile(part, index, how);
      const shift = lines - (index === 0 ? 0 : dialect.rowsAfterLine);
      places.push(...movedPlaces(part, { fromLine: lines + 1, shift }));
      const ends = await append(out, file, dialect.rowsAfterLine, index === 0 ? 'header' : 'rows');
      lines += ends.lines;
      const firstS = stampOf(ends.firstRow, part, zero);
      const overS = before === null ? -1 : overlapS(before.lastS, firstS, ordered, fromS);
      if (before !== null && overS >= 0)
        issues.push(overlapIssue(before.part, part, toWholeNanosecond(overS)));
      before = { part, lastS: stampOf(ends.lastRow, part, zero) };
    }
  } finally {
    await out.close();
  }
  return { target, places, issues };
}

/**
 * Opens every file of a source and joins them. Files that hold other channels each are put side by
 * side; others must be written alike and follow each other in the order that `orderParts` finds.
 */
export async function joinParts(
  scanned: readonly ScannedPart[],
  reading: Reading,
  how: Unpacking,
): Promise<Joined> {
  const parts: Part[] = [];
  const issues: Issue[] = [];
  for (const [index, part] of scanned.entries()) {
    const opened = await openPart(part, reading, { ...how, label: `${how.label}-${index}` });
    issues.push(...opened.issues);
    if (opened.part !== null) parts.push(opened.part);
  }
  const nothing = { source: null, head: null, issues };
  const [first, ...others] = parts;
  if (first === undefined || hasErrors(issues)) return nothing;
  if (others.length === 0) return { source: first.source, head: first.head, issues };
  if (holdOtherChannels(parts)) {
    const beside = await joinBeside(parts, first, { spec: reading.spec, how });
    return { ...beside, issues: [...issues, ...beside.issues] };
  }
  issues.push(
    ...others.flatMap((other) => columnsFault(first, other) ?? unitsFault(first, other) ?? []),
  );
  if (hasErrors(issues)) return nothing;
  const { zero } = reading;
  const ordered = await orderParts(parts, reading.spec, zero);
  issues.push(...ordered.issues);
  if (hasErrors(issues)) return nothing;
  const joined = await joinAll(ordered, zero, how);
  issues.push(...joined.issues);
  const [start = first] = ordered.parts;
  const scan = await scanSource(joined.target, { signal: how.signal });
  const source = {
    ...start.source,
    file: joined.target,
    scan,
    places: joined.places,
    turns: ordered.turns,
  };
  // What was mended in the parts is plain in the whole.
  const dialect = plainDialect(start.head.dialect);
  const whole = { ...dialect, leastCells: dialect.columns.length };
  return { source, head: { ...start.head, encoding: 'utf-8', dialect: whole }, issues };
}
