/** Times of day of a telemetry source, carried on over midnight. */
import { type CarriedDays, carryDays, type DayTurn, writesDays } from '@/lib/core/time/carry-days';
import { secondsBetween } from '@/lib/core/time/instant';
import type { PassInput } from './data-pass';
import type { DataResult, PlacedTurn } from './data-result';

/** What became of the days of the stamps; `tS` is as read where nothing was carried. */
export type StampDays = Readonly<{
  tS: Float64Array;
  turns: readonly DayTurn[];
  /** A step that may be midnight or not; null where there is none. */
  open: DayTurn | null;
}>;

/**
 * Carries stamps that are times of day.
 *
 * @param tS stamps in the order of the file, s from zero; NaN where one could not be read
 */
export function carryStamps(
  { time, zero, stampSamples }: Pick<PassInput, 'time' | 'zero' | 'stampSamples'>,
  tS: Float64Array,
): StampDays {
  const isTimeOfDay =
    time.code === 'elapsed-dhms' && !stampSamples.some(([stamp = '']) => writesDays(stamp));
  const carried: CarriedDays | null = isTimeOfDay
    ? carryDays(tS, secondsBetween(zero, time.from))
    : null;
  if (carried === null) return { tS, turns: [], open: null };
  if (carried.kind === 'open') return { tS, turns: [], open: carried.turn };
  return { tS: carried.tS, turns: carried.turns, open: null };
}

/** The turns with the lines they stand on; nothing where there are none. */
export function placeTurns(
  { turns, open }: Pick<StampDays, 'turns' | 'open'>,
  lineOf: (row: number) => number,
): Pick<DataResult, 'dayTurns' | 'openTurn'> {
  const placed = ({ row, beforeS, afterS }: DayTurn): PlacedTurn => {
    return { beforeS, afterS, line: lineOf(row) };
  };
  return {
    ...(turns.length === 0 ? {} : { dayTurns: turns.map(placed) }),
    ...(open === null ? {} : { openTurn: placed(open) }),
  };
}

/** Rows that something is said about. */
export function turnRows({ turns, open }: Pick<StampDays, 'turns' | 'open'>): readonly number[] {
  return [...turns, ...(open === null ? [] : [open])].map(({ row }) => row);
}
