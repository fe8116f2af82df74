/** Times of day of a telemetry source, carried on over midnight. */
import { DAY_S } from '@/lib/core/time/calendar';
import { carryCounter } from '@/lib/core/time/carry-counter';
import { type CarriedDays, carryDays, type DayTurn, writesDays } from '@/lib/core/time/carry-days';
import {
  carryLeapSecond,
  leapSecondsAfter,
  type StampRows,
} from '@/lib/core/time/carry-leap-second';
import { secondsBetween } from '@/lib/core/time/instant';
import { isCounterCode, isElapsedCode, isUnixCode } from '@/lib/core/time/time-code';
import type { PassInput } from './data-pass';
import type { DataResult, PlacedTurn } from './data-result';

/** What became of the days of the stamps; `tS` is as read where nothing was carried. */
export type StampDays = Readonly<{
  tS: Float64Array;
  turns: readonly DayTurn[];
  /** Where a counter begins again, s; 1 for the leap second; absent for times of day. */
  spanS?: number;
  /** A step that may be midnight or not; null where there is none. */
  open: DayTurn | null;
}>;

export type StampInput = Pick<PassInput, 'time' | 'zero' | 'stampSamples' | 'turns'>;

/** True for times of day, which do not say the day. */
export function writesTimesOfDay({ time, stampSamples }: StampInput): boolean {
  return isElapsedCode(time.code) && !stampSamples.some(([stamp = '']) => writesDays(stamp));
}

/**
 * Carries stamps that are times of day.
 *
 * @param tS stamps in the order of the file, s from zero; NaN where one could not be read
 * @param rows whether every row has a stamp of its own, or those of several channels share one
 */
export function carryStamps(
  input: StampInput,
  tS: Float64Array,
  rows: StampRows = 'one a stamp',
): StampDays {
  const { time, zero, turns: known } = input;
  if (isUnixCode(time.code)) {
    const leap = time.scale === 'UTC' ? carryLeapSecond(tS, zero, rows) : null;
    return leap === null ? { tS, turns: [], open: null } : { ...leap, spanS: 1, open: null };
  }
  const fromS = secondsBetween(zero, time.from);
  const leapAfter = leapSecondsAfter(time.from);
  if (isCounterCode(time.code) && known.length === 0) {
    const counter = carryCounter(tS, fromS, leapAfter);
    return { ...(counter ?? { tS, turns: [] }), open: null };
  }
  const carried: CarriedDays | null = writesTimesOfDay(input)
    ? carryDays(tS, fromS, { known, leapAfter })
    : null;
  if (carried === null) return { tS, turns: [], open: null };
  if (carried.kind === 'open') return { tS, turns: [], open: carried.turn };
  const counts = isCounterCode(time.code) ? { spanS: DAY_S } : {};
  return { tS: carried.tS, turns: carried.turns, ...counts, open: null };
}

/** The turns with the lines they stand on; nothing where there are none. */
export function placeTurns(
  { turns, open, spanS }: Omit<StampDays, 'tS'>,
  lineOf: (row: number) => number,
): Pick<DataResult, 'dayTurns' | 'openTurn'> {
  const placed = ({ row, beforeS, afterS }: DayTurn): PlacedTurn => {
    return { beforeS, afterS, line: lineOf(row), ...(spanS === undefined ? {} : { spanS }) };
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
