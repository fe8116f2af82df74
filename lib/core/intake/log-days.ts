/** Logs whose stamps are times of day: carried on over midnight, refused where that is not clear. */
import type { Issue, Parsed } from '../result';
import { DAY_S } from '../time/calendar';
import { type CarriedDays, carryDays } from '../time/carry-days';
import { leapSecondsAfter } from '../time/carry-leap-second';
import { secondsBetween } from '../time/instant';
import { isCounterCode, isElapsedCode } from '../time/time-code';
import type { EventLog, LogText } from './event-reader';
import { counterWords, midnightOpenWords, midnightWords } from './stamp-words';

/** A stamp with its day at the start of a line or of a cell: `1:00:00:05`, `000 23 59 50`. */
const WRITES_DAYS =
  /(?:^|[,;\t|"[(])[ \t]*[+\-−]?\d{1,6}(?:[:/]\d{1,2}:\d{2}:\d{2}|(?:[ \t]+\d{2}){3}(?!\d))/m;

/** True for numbers that fall over midnight only: what else they may do says nothing of a day. */
function isMidnight(carried: CarriedDays): boolean {
  return (
    carried.kind === 'carried' && carried.turns.every(({ beforeS, afterS }) => afterS < beforeS)
  );
}

/**
 * Carries the entries of a log on over midnight.
 *
 * @param log what was read; its time code, and its text, which shows whether days are written
 * @param read the log's entries and what was said of them
 * @returns the same where its stamps are more than times of day or no midnight lies between them;
 *   null with an error where a step may be midnight or a row out of order
 */
export function carryLog({ time, zero, text, fileName: file }: LogText, read: Parsed<EventLog>) {
  const { value, issues } = read;
  if (value === null || time === null || !isElapsedCode(time.code)) return read;
  const isCounter = isCounterCode(time.code);
  if (!isCounter && WRITES_DAYS.test(text)) return read;
  const inFile = [...value.entries].sort((a, b) => a.line - b.line);
  const stamps = Float64Array.from(inFile, ({ sourceS }) => sourceS);
  const carried = carryDays(stamps, secondsBetween(zero, time.from), {
    leapAfter: leapSecondsAfter(time.from),
  });
  if (carried === null || (isCounter && !isMidnight(carried))) return read;
  const lineOf = (row: number): number => inFile[row]?.line ?? 0;
  if (carried.kind === 'open') {
    const issue: Issue = {
      file,
      line: lineOf(carried.turn.row),
      ...midnightOpenWords(carried.turn),
    };
    return { value: null, issues: [issue, ...issues] };
  }
  const entries = inFile
    .map((entry, row) => ({ ...entry, sourceS: carried.tS[row] ?? entry.sourceS }))
    .sort((a, b) => a.sourceS - b.sourceS);
  const { turns } = carried;
  const lines = turns.map(({ row }) => lineOf(row));
  const others = issues.filter(
    ({ code, line = 0 }) => code !== 'stamp-goes-back' || !lines.includes(line),
  );
  const said = turns.slice(0, 1).map((turn): Issue => {
    const count = turns.length;
    const words = isCounter
      ? counterWords(turn, { spanS: DAY_S, count })
      : midnightWords(turn, count);
    return { file, line: lineOf(turn.row), ...words };
  });
  return { value: { ...value, entries }, issues: [...others, ...said] };
}
