/** Stamps of channels that stand one under the other: each carried on by itself, then set beside the others. */
import { DAY_S } from '@/lib/core/time/calendar';
import {
  type DayTurn,
  LEAP_DAYS_AHEAD,
  LONGEST_PAUSE_S,
  toWholeNanosecond,
} from '@/lib/core/time/carry-days';
import { leapSecondsAfter } from '@/lib/core/time/carry-leap-second';
import { secondsBetween } from '@/lib/core/time/instant';
import { type Stretch, spansBeside } from '@/lib/core/time/spans-beside';
import { isCounterCode } from '@/lib/core/time/time-code';
import { carryStamps, type StampDays, type StampInput, writesTimesOfDay } from './stamp-days';

type Block = StampDays & Readonly<{ from: number; read: Float64Array }>;

function stretchOf(stamps: Float64Array): Stretch {
  let [lowS, highS] = [Number.NaN, Number.NaN];
  for (const stampS of stamps) {
    if (Number.isNaN(stampS)) continue;
    if (!(lowS <= stampS)) lowS = stampS;
    if (!(highS >= stampS)) highS = stampS;
  }
  return { lowS, highS };
}

/** After how long the clock of all blocks begins again, s; null where it does not, or nothing shows it. */
function spanOf(input: StampInput, blocks: readonly Block[], fromS: number): number | null {
  const spanS = isCounterCode(input.time.code)
    ? blocks.find((block) => block.spanS !== undefined)?.spanS
    : writesTimesOfDay(input)
      ? DAY_S
      : undefined;
  if (spanS === undefined) return null;
  const longestS = spanS + leapSecondsAfter(input.time.from)(LEAP_DAYS_AHEAD);
  const isInside = blocks.every(({ read }) => {
    const { lowS, highS } = stretchOf(read);
    return Number.isNaN(lowS) || (lowS >= fromS && highS < fromS + longestS);
  });
  return isInside ? spanS : null;
}

/** The step from the block before to one that lies on another day than the days of both say. */
function turnInto(blocks: readonly Block[], index: number, fromS: number): DayTurn {
  const { from, read } = blocks[index] ?? { from: 0, read: new Float64Array(0) };
  const before = blocks[index - 1]?.read ?? read;
  return { row: from, beforeS: (before.at(-1) ?? NaN) - fromS, afterS: (read[0] ?? NaN) - fromS };
}

/** Stamps so many days, or spans of a counter, later; days may hold leap seconds. */
function moveOn(
  { time }: StampInput,
  { tS, fromS }: Readonly<{ tS: Float64Array; fromS: number }>,
  { spanS, count }: Readonly<{ spanS: number; count: number }>,
): Float64Array {
  if (count === 0) return tS;
  const leapAfter = spanS === DAY_S ? leapSecondsAfter(time.from) : () => 0;
  return tS.map((stampS) => {
    const day = Math.floor((stampS - fromS) / spanS);
    return toWholeNanosecond(stampS + count * spanS + leapAfter(day + count) - leapAfter(day));
  });
}

/** Blocks where they lie nearest to those before them. */
function setBeside(input: StampInput, blocks: readonly Block[]): StampDays {
  const fromS = secondsBetween(input.zero, input.time.from);
  const length = blocks.reduce((sum, { read }) => sum + read.length, 0);
  const tS = new Float64Array(length);
  const spanS = spanOf(input, blocks, fromS) ?? 0;
  const isCounter = isCounterCode(input.time.code);
  const stretches = spanS === 0 ? [] : blocks.map((block) => stretchOf(block.tS));
  const mostS = isCounter ? Number.POSITIVE_INFINITY : LONGEST_PAUSE_S;
  const { spans, apart } = spansBeside(stretches, spanS, mostS);
  for (const [index, block] of blocks.entries()) {
    const count = spans[index] ?? 0;
    tS.set(moveOn(input, { tS: block.tS, fromS }, { spanS, count }), block.from);
  }
  if (apart !== null) return { tS, turns: [], open: turnInto(blocks, apart, fromS) };
  const moved = spans.flatMap((span, index) =>
    index === 0 || span === spans[index - 1] ? [] : [turnInto(blocks, index, fromS)],
  );
  return { tS, turns: moved, open: null, ...(isCounter ? { spanS } : {}) };
}

const inFile = ({ from }: Block, turn: DayTurn): DayTurn => ({ ...turn, row: from + turn.row });

/**
 * Carries the stamps of each block on, and moves blocks by whole days, or spans of their counter, to
 * where they lie nearest to those before them: channels of one source are of one time.
 *
 * @param starts first rows of the blocks, from 0 on
 * @returns turns of the first block that has any; without one, those into blocks that were moved
 */
export function carryBlocks(
  input: StampInput,
  tS: Float64Array,
  starts: readonly number[],
): StampDays {
  const blocks: readonly Block[] = starts.map((from, at) => {
    const read = tS.subarray(from, starts[at + 1] ?? tS.length);
    return { from, read, ...carryStamps(input, read) };
  });
  for (const block of blocks) {
    if (block.open !== null) return { tS, turns: [], open: inFile(block, block.open) };
  }
  const beside = setBeside(input, blocks);
  const turned = blocks.find(({ turns }) => turns.length > 0);
  if (turned === undefined || beside.open !== null) return beside;
  const { spanS } = turned;
  const turns = turned.turns.map((turn) => inFile(turned, turn));
  return { tS: beside.tS, turns, open: null, ...(spanS === undefined ? {} : { spanS }) };
}
