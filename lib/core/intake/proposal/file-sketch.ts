/** What a look at the first, middle and last part of a file shows, before anything is imported. */
import { isNumber } from '../find-table';
import { isLogColumn } from '../formats/log-columns';
import type { TableSketch } from './table-proposal';
import type { CellColumns } from './time-proposal';

/** A table with the places of its first rows. */
export type SketchedTable = TableSketch &
  Readonly<{
    /** Line (of Parquet: row) of each row of the first block, 1-based; later ones are not counted. */
    lines: readonly number[];
  }>;

/** `said` names what the file is by its first bytes or its words, for a person. */
export type FileSketch = Readonly<{
  file: string;
  bytes: number;
  said: string;
  kind: 'table' | 'log' | 'plan' | 'rules' | 'ephemeris' | 'other';
  table: SketchedTable | null;
  /** True for a message that says itself how its times are written; its table has them in UTC. */
  ownTimes: boolean;
  /** The first lines of a log. */
  lines: readonly string[];
  /** Certain ranges spoken in what was looked at of a log; 0 where its times are dates. */
  spokenRanges: number;
  /** What a person can do with a file from which nothing is read; null where something is. */
  instead: string | null;
}>;

/** A log has its stamp, perhaps an end or a number beside it; a table of samples has more. */
const MOST_NUMBERS = 2;

function isNumbers(cells: readonly string[]): boolean {
  const filled = cells.filter((cell) => cell.trim() !== '');
  return filled.length > 0 && filled.every(isNumber);
}

/** True for a table with a column of a log of events, and hardly one of numbers. */
export function isLogTable({ columns, cells }: CellColumns): boolean {
  return columns.some(isLogColumn) && cells.filter(isNumbers).length <= MOST_NUMBERS;
}

/**
 * Which part of a session a YAML or JSON text is.
 *
 * @param text the whole file
 * @returns plan or rules by the key at its left edge; null where neither stands there
 */
export function yamlPart(text: string): 'plan' | 'rules' | null {
  if (/^\s*(?:\{\s*)?"?plan"?\s*:/m.test(text) && /"?steps"?\s*:/.test(text)) return 'plan';
  return /^(?:\s*\{\s*)?"?rules"?\s*:/m.test(text) ? 'rules' : null;
}
