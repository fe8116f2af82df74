/** What a pass over a source's rows found, before levels and manifest. */
import type { StampFault } from '@/lib/core/session/stamp-fault';

/** A cell or a row that could not be used. `column` is null for a whole row. */
export type Reject = Readonly<{
  line: number;
  /** The file it stands in, where the source has several. */
  file?: string;
  column: string | null;
  text: string;
  reason: RejectReason;
}>;

export const rejectReasons = [
  'not-a-number',
  'stamp-unreadable',
  'too-few-cells',
  'too-many-cells',
  'row-unreadable',
] as const;
export type RejectReason = (typeof rejectReasons)[number];

/** Times of day on both sides of a midnight, s, and the line after it. */
export type PlacedTurn = Readonly<{
  beforeS: number;
  afterS: number;
  line: number;
  file?: string;
  /** Where a counter begins again, s; absent for times of day. */
  spanS?: number;
}>;

/** How many rejects a folder lists one by one; the counts go on. */
export const MOST_REJECTS = 100_000;

export type DataResult = Readonly<{
  /** Rows in data.parquet. */
  rows: number;
  rowsRead: number;
  rowsRejected: number;
  /** Lines inside the table that are remarks; they are no rows. */
  remarks: number;
  rowsOutOfOrder: number;
  /** Those of them that step back; the others repeat a stamp. */
  rowsBack: number;
  /** The source ran from the latest stamp to the earliest. */
  isBackwards: boolean;
  stampFaults: readonly StampFault[];
  /** Where times of day were carried on over midnight; absent where none were. */
  dayTurns?: readonly PlacedTurn[];
  /** A step back that may be midnight or a row out of order; absent where there is none. */
  openTurn?: PlacedTurn;
  rejects: readonly Reject[];
  /** By position in the plan's channels. */
  rejectedCells: readonly number[];
  notFinite: readonly number[];
}>;
