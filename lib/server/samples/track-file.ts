/** Flight and runs of a comparison in one file of doubles beside the derived columns, with an index. */
import { createHash } from 'node:crypto';
import { open, readFile, stat } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import type { Track } from '@/lib/core/compare/track';
import { type CompareTracks, TRACK_COLUMNS } from '@/lib/core/reconstruction/compare-tracks';
import { invariant } from '@/lib/core/result';
import { samplePath } from './columns-of';
import { isSystemError, writeDurably } from './durable-files';

export const TRACKS_FILE = 'tracks.f64';
export const TRACKS_INDEX = 'tracks.json';

/** More numbers than this are thinned: some 380 MB are kept in memory while runs are compared. */
const MOST_NUMBERS = 48_000_000;

const trackSchema = z.object({
  name: z.string(),
  sha256: z.string(),
  rows: z.number().int(),
  columns: z.array(z.string()),
  spans: z.array(z.object({ from: z.number().int(), to: z.number().int() })),
  steps: z.record(z.string(), z.tuple([z.number(), z.number()])),
  contactS: z.number().nullable(),
});

const indexSchema = z.object({
  format: z.literal('wakeline/tracks/1'),
  /** Every so many-th row is kept. */
  everyRow: z.number().int(),
  pass: z.object({ step: z.string(), sense: z.enum(['inward', 'outward']) }),
  channels: z.array(z.string()),
  sources: z.array(z.object({ file: z.string(), sha256: z.string() })),
  files: z.string(),
  sha256: z.string(),
  people: z.exactOptional(z.record(z.string(), z.array(z.string()))),
  flight: trackSchema,
  runs: z.array(trackSchema),
  others: z.array(trackSchema),
});

type TrackEntry = z.infer<typeof trackSchema>;

function columnsOfTrack({ tS, columns }: Track): readonly Float64Array[] {
  return [tS, ...TRACK_COLUMNS.flatMap((name) => columns.get(name) ?? [])];
}

function entryOf({ name, sha256, tS, columns, spans, steps, contactS }: Track): TrackEntry {
  return {
    name,
    sha256,
    rows: tS.length,
    columns: TRACK_COLUMNS.filter((column) => columns.has(column)),
    spans: spans.map(({ from, to }) => ({ from, to })),
    steps: Object.fromEntries(Object.entries(steps).map(([id, [a, b]]) => [id, [a, b]])),
    contactS,
  };
}

/** Every so many-th row of each span, and always its last. */
function thinned(track: Track, every: number): Track {
  if (every === 1) return track;
  const kept: number[] = [];
  const spans = track.spans.map(({ from, to }) => {
    const start = kept.length;
    for (let row = from; row < to; row++)
      if ((row - from) % every === 0 || row === to - 1) kept.push(row);
    return { from: start, to: kept.length };
  });
  const take = (values: Float64Array): Float64Array =>
    Float64Array.from(kept, (row) => values[row] ?? Number.NaN);
  const columns = new Map([...track.columns].map(([name, values]) => [name, take(values)]));
  return { ...track, tS: take(track.tS), columns, spans };
}

function everyRowOf(runs: readonly Track[]): number {
  const numbers = runs.reduce((sum, { tS, columns }) => sum + tS.length * (1 + columns.size), 0);
  return Math.max(1, Math.ceil(numbers / MOST_NUMBERS));
}

function allOf({ flight, runs, others }: Pick<CompareTracks, 'flight' | 'runs' | 'others'>) {
  return [flight, ...runs, ...others];
}

function bytesOf(numbers: Float64Array): Uint8Array {
  return new Uint8Array(numbers.buffer, numbers.byteOffset, numbers.byteLength);
}

/** Hash of everything that would be written. */
export function tracksHash(tracks: CompareTracks): string {
  const hash = createHash('sha256').update(JSON.stringify(tracks.people ?? {}));
  for (const track of allOf(tracks)) {
    hash.update(JSON.stringify(entryOf(track)));
    for (const numbers of columnsOfTrack(track)) hash.update(bytesOf(numbers));
  }
  return hash.digest('hex');
}

/** Writes both files into a folder that is being filled. */
export async function writeTracks(folder: string, tracks: CompareTracks): Promise<void> {
  const { pass, channels, sources, files, sha256, people = {} } = tracks;
  const everyRow = everyRowOf(tracks.runs);
  const thin = (track: Track): Track => thinned(track, everyRow);
  const kept = {
    flight: tracks.flight,
    runs: tracks.runs.map(thin),
    others: tracks.others.map(thin),
  };
  const handle = await open(path.join(folder, TRACKS_FILE), 'wx');
  try {
    for (const track of allOf(kept))
      for (const numbers of columnsOfTrack(track)) await handle.writeFile(bytesOf(numbers));
    await handle.sync();
  } finally {
    await handle.close();
  }
  const index: z.infer<typeof indexSchema> = {
    format: 'wakeline/tracks/1',
    everyRow,
    pass,
    channels: [...channels],
    sources: sources.map((source) => ({ ...source })),
    files,
    sha256,
    people: Object.fromEntries(Object.entries(people).map(([id, said]) => [id, [...said]])),
    flight: entryOf(kept.flight),
    runs: kept.runs.map(entryOf),
    others: kept.others.map(entryOf),
  };
  await writeDurably(path.join(folder, TRACKS_INDEX), `${JSON.stringify(index)}\n`);
}

/** All doubles of a file; read in one go into memory of its own. */
async function readNumbers(file: string): Promise<Float64Array> {
  const { size } = await stat(file);
  const numbers = new Float64Array(size / Float64Array.BYTES_PER_ELEMENT);
  const bytes = bytesOf(numbers);
  const handle = await open(file, 'r');
  try {
    for (let at = 0; at < size; ) {
      const { bytesRead } = await handle.read(bytes, at, Math.min(size - at, 1 << 28), at);
      invariant(bytesRead > 0, `${file} ends early`);
      at += bytesRead;
    }
  } finally {
    await handle.close();
  }
  return numbers;
}

function trackReader(numbers: Float64Array): (entry: TrackEntry) => Track {
  let at = 0;
  const next = (rows: number): Float64Array => {
    at += rows;
    return numbers.subarray(at - rows, at);
  };
  return ({ rows, columns, ...entry }) => {
    const tS = next(rows);
    return { ...entry, tS, columns: new Map(columns.map((name) => [name, next(rows)])) };
  };
}

/** @returns null where the folder was written without runs */
export async function readTracks(
  samplesRoot: string,
  folder: string,
): Promise<CompareTracks | null> {
  const place = samplePath(samplesRoot, folder);
  let text: string;
  try {
    text = await readFile(path.join(place, TRACKS_INDEX), 'utf8');
  } catch (error) {
    if (isSystemError(error, ['ENOENT'])) return null;
    throw error;
  }
  const { format, everyRow, flight, runs, others, ...rest } = indexSchema.parse(JSON.parse(text));
  const read = trackReader(await readNumbers(path.join(place, TRACKS_FILE)));
  return { ...rest, flight: read(flight), runs: runs.map(read), others: others.map(read) };
}
