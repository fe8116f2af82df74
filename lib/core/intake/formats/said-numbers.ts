/** Lines of a plain text log that begin with a number which was said: "200 metres and closing". */
import type { TimeCode } from '../../time/time-code';
import { readSpeaker, type StampedLine } from './log-line';

/** Codes whose stamps are plain numbers, which words may begin with too. */
const NUMBER_CODES: readonly TimeCode[] = [
  'elapsed-seconds',
  'unix-seconds',
  'unix-milliseconds',
  'unix-nanoseconds',
  'unix-microseconds',
  'elapsed-milliseconds',
  'julian-date',
  'modified-julian-date',
  'days-since-1900',
  'days-since-1904',
];

const PLAIN_NUMBER = /^\s*[-+−]?[\d.]/;
const BRACKETED = /^\s*[[(]/;

/** What a number counts when it is said. */
const COUNTED =
  /^\s*(?:m|cm|mm|km|ft|nmi?|yd|deg|m\/s|mps|cm\/s|fps|metres?|meters?|centimet(?:re|er)s?|millimet(?:re|er)s?|kilomet(?:re|er)s?|feet|foot|yards?|miles?|nautical|inch(?:es)?|degrees?|percent|seconds?|minutes?)\b(?!\s*:)|^\s*[%°]/i;

/** A line that begins with a number: its place among the lines, and what follows the number. */
type Numbered = Readonly<{ index: number; sourceS: number; rest: string; hasSpeaker: boolean }>;

/** A speaker is expected where this share of the lines has one. */
const MOST = 0.6;

function isOutOfOrder(lines: readonly Numbered[], at: number): boolean {
  const [before, line, after] = [lines[at - 1], lines[at], lines[at + 1]];
  if (line === undefined) return false;
  return (
    (before !== undefined && line.sourceS < before.sourceS) ||
    (after !== undefined && line.sourceS > after.sourceS)
  );
}

/** Numbers that count something, or that go on in small letters where lines begin with capitals. */
function isSaid({ rest }: Numbered, numbered: readonly Numbered[]): boolean {
  if (COUNTED.test(rest)) return true;
  const goesOn = (text: string): boolean => /^\s*\p{Ll}/u.test(text);
  return goesOn(rest) && 2 * numbered.filter((each) => goesOn(each.rest)).length < numbered.length;
}

/**
 * Finds the lines whose number at the start is what was said and no stamp: it counts something, it
 * goes on in small letters unlike most, stamps of this log stand in brackets, or it has no speaker
 * and is out of order where most lines have one.
 *
 * @param readLine reads the stamp at the start of a line
 * @returns indexes of such lines; none for a code whose stamps are more than a number
 */
export function findSaidNumbers(
  lines: readonly string[],
  code: TimeCode,
  readLine: (line: string) => StampedLine | null,
): ReadonlySet<number> {
  if (!NUMBER_CODES.includes(code)) return new Set();
  const numbered: Numbered[] = [];
  let bracketed = 0;
  for (const [index, line] of lines.entries()) {
    if (BRACKETED.test(line)) bracketed += readLine(line) === null ? 0 : 1;
    if (!PLAIN_NUMBER.test(line)) continue;
    const read = readLine(line);
    if (read === null) continue;
    const hasSpeaker = readSpeaker(read.rest).speaker !== null;
    numbered.push({ index, sourceS: read.sourceS, rest: read.rest, hasSpeaker });
  }
  if (bracketed > numbered.length) return new Set(numbered.map(({ index }) => index));
  const said = new Set<number>();
  for (const line of numbered) if (isSaid(line, numbered)) said.add(line.index);
  const left = numbered.filter(({ index }) => !said.has(index));
  const speaking = left.filter(({ hasSpeaker }) => hasSpeaker).length;
  if (speaking < MOST * left.length) return said;
  for (const [at, line] of left.entries()) {
    if (!line.hasSpeaker && isOutOfOrder(left, at)) said.add(line.index);
  }
  return said;
}
