import { invariant } from '@/lib/core/result';
import {
  addBins,
  addSamples,
  type EnvelopeSeries,
  emptyEnvelope,
  type Parts,
  wideBins,
} from './bin-envelope';
import { TIME_COLUMN } from './column-plan';
import { channelNamed } from './columns-of';
import { readDoubles } from './double-chunks';
import { withConnection } from './engine';
import { estimateRows, type FolderIndex, folderIndex, folderTable } from './folder-index';
import { type PieceSource, readPieces } from './kept-pieces';
import { levelColumns } from './level-files';
import { LEVEL_ROWS, type LevelRows } from './sample-manifest';
import { sqlDouble, sqlName } from './sql-text';

export type EnvelopeQuery = Readonly<{
  columns: readonly string[];
  fromS: number;
  toS: number;
  /** Columns of the screen the window is drawn on; each gets one min and one max. */
  pixels: number;
}>;

/**
 * Smallest and largest sample in each of `pixels` equal parts of the window. NaN = no sample there.
 * `exact` is false when a level file was used: a bin that lies across an edge then counts on both
 * sides, so an envelope may be wider than the samples, never narrower.
 */
export type Envelope = Readonly<{
  fromS: number;
  toS: number;
  pixels: number;
  rowsPerBin: 1 | LevelRows;
  exact: boolean;
  series: readonly Readonly<{ column: string } & EnvelopeSeries>[];
}>;

/**
 * A level is used where at least this many of its bins fit into a pixel: an excursion is then drawn a
 * pixel wider than it is at most. With two, rows were read one by one up to twice as long a window,
 * which took twice the time of every other.
 */
const BINS_A_PIXEL = 1;
const MOST_WIDE_BINS = 64;
export const MOST_PIXELS = 20_000;

/** More rows than this are read as they come and not kept: only where gaps make every level unfit. */
const MOST_ROWS_KEPT = 1_000_000;

type Window = Readonly<{
  samplesRoot: string;
  folder: string;
  index: FolderIndex;
  stored: readonly string[];
  parts: Parts;
}>;

const NOT_A_NUMBER = "'nan'::DOUBLE";

function rowColumns(stored: readonly string[]): readonly string[] {
  return [TIME_COLUMN, ...stored.map((name) => `coalesce(${sqlName(name)}, ${NOT_A_NUMBER})`)];
}

function sourceOf({ samplesRoot, folder, index }: Window, rowsPerBin: 1 | LevelRows): PieceSource {
  return { samplesRoot, folder, index, rowsPerBin };
}

/** All rows of the window, from the pieces that hold them. */
async function addPieces(window: Window, series: readonly EnvelopeSeries[]): Promise<void> {
  const { stored, parts } = window;
  const asked = { fromS: parts.fromS, toS: parts.toS, endColumn: 0 } as const;
  const pieces = await readPieces(sourceOf(window, 1), rowColumns(stored), asked);
  for (const [tS = new Float64Array(0), ...values] of pieces)
    series.forEach((each, index) => {
      addSamples(each, parts, tS, values[index] ?? new Float64Array(0));
    });
}

async function addRows(
  window: Window,
  series: readonly EnvelopeSeries[],
  ranges: readonly (readonly [fromS: number, toS: number])[],
  expectedRows: number,
): Promise<void> {
  const { samplesRoot, folder, stored, parts } = window;
  const columns = rowColumns(stored);
  const where = ranges
    .map(([from, to]) => `${TIME_COLUMN} BETWEEN ${sqlDouble(from)} AND ${sqlDouble(to)}`)
    .join(' OR ');
  const sql = `SELECT ${columns} FROM ${folderTable(samplesRoot, folder, 1)} WHERE ${where}`;
  const [tS = new Float64Array(0), ...values] = await withConnection(samplesRoot, (connection) =>
    readDoubles(connection, sql, expectedRows),
  );
  series.forEach((each, index) => {
    addSamples(each, parts, tS, values[index] ?? new Float64Array(0));
  });
}

/** @returns false when too many bins hold gaps, so that a finer level is the shorter way */
async function addLevel(
  window: Window,
  series: readonly EnvelopeSeries[],
  level: LevelRows,
): Promise<boolean> {
  const { stored, parts } = window;
  const columns = stored.flatMap((name) => {
    const { min, max, n } = levelColumns(name);
    return [
      `coalesce(${sqlName(min)}, ${NOT_A_NUMBER})`,
      `coalesce(${sqlName(max)}, ${NOT_A_NUMBER})`,
      `CAST(${sqlName(n)} AS DOUBLE)`,
    ];
  });
  const asked = { fromS: parts.fromS, toS: parts.toS, endColumn: 1 } as const;
  const pieces = await readPieces(sourceOf(window, level), ['t0', 't1', ...columns], asked);
  const none = new Float64Array(0);
  const ranges: (readonly [fromS: number, toS: number])[] = [];
  for (const [t0 = none, t1 = none, ...values] of pieces) {
    const wide = wideBins(parts, t0, t1);
    for (const bin of wide)
      ranges.push([Math.max(parts.fromS, t0[bin] ?? 0), Math.min(parts.toS, t1[bin] ?? 0)]);
    if (ranges.length > MOST_WIDE_BINS) return false;
    series.forEach((each, index) => {
      const bins = {
        t0,
        t1,
        min: values[3 * index] ?? none,
        max: values[3 * index + 1] ?? none,
        count: values[3 * index + 2] ?? none,
      };
      addBins(each, parts, bins, new Set(wide));
    });
  }
  if (ranges.length > 0) await addRows(window, series, ranges, ranges.length * level);
  return true;
}

/** Levels to try, coarsest first; 1 is the samples themselves. */
function levelsFor(rowsPerPixel: number): readonly (1 | LevelRows)[] {
  const fitting = LEVEL_ROWS.filter((level) => rowsPerPixel >= BINS_A_PIXEL * level);
  return [...fitting.reverse(), 1];
}

/**
 * The envelope of some columns over a window.
 *
 * @param query `columns` are names as in the source's header; `toS` must lie after `fromS`
 */
export async function readEnvelope(
  samplesRoot: string,
  folder: string,
  query: EnvelopeQuery,
): Promise<Envelope> {
  const { fromS, toS, pixels } = query;
  invariant(Number.isFinite(fromS) && Number.isFinite(toS) && fromS < toS, 'no window');
  invariant(Number.isInteger(pixels) && pixels > 0 && pixels <= MOST_PIXELS, 'no pixels');
  const index = await folderIndex(samplesRoot, folder);
  const stored = query.columns.map((name) => channelNamed(index.manifest, name).stored);
  const window: Window = { samplesRoot, folder, index, stored, parts: { fromS, toS, pixels } };
  const rows = estimateRows(index, fromS, toS);
  for (const level of levelsFor(rows / pixels)) {
    const series = query.columns.map(() => emptyEnvelope(pixels));
    if (level !== 1) {
      if (!(await addLevel(window, series, level))) continue;
    } else if (rows <= MOST_ROWS_KEPT) await addPieces(window, series);
    else await addRows(window, series, [[fromS, toS]], Math.ceil(rows) + 4096);
    return {
      fromS,
      toS,
      pixels,
      rowsPerBin: level,
      exact: level === 1,
      series: query.columns.map((column, at) => ({
        column,
        ...(series[at] ?? emptyEnvelope(pixels)),
      })),
    };
  }
  throw new Error('invariant: the samples themselves always answer');
}
