/** Plain text whose lines start with a stamp: `[003:07:45:12] CREW: Range 200 metres.` */
import type { Parsed } from '../../result';
import { isDateCode } from '../../time/parse';
import { makeStampReader } from '../../time/stamp-reader';
import type { TimeCode } from '../../time/time-code';
import {
  type EventLog,
  type EventReader,
  type LogBuilder,
  type LogText,
  makeLogBuilder,
  refuseLog,
  textOrNull,
} from '../event-reader';
import { splitLines } from '../split-lines';
import {
  beginsLikeStamp,
  findBareSpeakers,
  findSpacedStamp,
  isPageHeader,
  makeLineReader,
  readSpeaker,
} from './log-line';
import { findSaidNumbers } from './said-numbers';

/** How many lines show how a log names who speaks. */
const HABIT_LINES = 2000;
const REMARK = /^\s*#/;

/** An utterance while its lines are still coming. */
type Open = Readonly<{ sourceS: number; line: number; speaker: string | null; said: string[] }>;

/** Puts an utterance into the log; a stamp that nothing follows is refused. */
function close(open: Open | null, builder: LogBuilder): void {
  if (open === null) return;
  const { sourceS, line, speaker } = open;
  const text = textOrNull(open.said.join(' '));
  if (text === null && speaker === null) {
    builder.reject({ code: 'entry-empty', line, message: 'a stamp that nothing follows' });
  } else builder.accept({ sourceS, sourceEndS: null, event: null, text, speaker, line });
}

function openAt(sourceS: number, line: number, text: string, bare: ReadonlySet<string>): Open {
  const { speaker, text: said } = readSpeaker(text, bare);
  return { sourceS, line, speaker, said: said === '' ? [] : [said] };
}

/** A line without a stamp: who speaks next at the same stamp, or more of what was said. */
function goOn(open: Open, line: number, text: string, builder: LogBuilder): Open {
  const { speaker, text: said } = readSpeaker(text);
  if (speaker === null) {
    open.said.push(text.trim());
    return open;
  }
  if (open.speaker === null && open.said.length === 0) {
    return { ...open, speaker, said: said === '' ? [] : [said] };
  }
  close(open, builder);
  return openAt(open.sourceS, line, text, NO_NAMES);
}

/** A line that begins as a stamp does and cannot be read; its words are not those of the entry above. */
function refuseGarbled(
  builder: LogBuilder,
  { line, text, code }: Readonly<{ line: number; text: string; code: TimeCode }>,
): void {
  const received = text.trim().slice(0, 40);
  const message = `"${received}" begins as a stamp does, but its time cannot be read${clockHint(text, code)}`;
  builder.reject({ code: 'stamp-not-readable', line, message, received });
}

const NO_NAMES: ReadonlySet<string> = new Set();

/**
 * Reads stamped lines. A line without a stamp goes on with the entry before it, or is another
 * speaker at the same stamp; a stamp alone on its line is followed by what was said. Running heads
 * and feet, and remarks that start with `#`, are passed over. A number that was said is no stamp. A stamp smaller than the one before is reported with its line.
 *
 * @returns entries by time; null where no line starts with a stamp of the code stated
 */
export function readStampedLines(log: LogText): Parsed<EventLog> {
  const { fileName, time, zero } = log;
  if (time === null) {
    return refuseLog(fileName, {
      code: 'key-missing',
      message: 'the session file gives no time for this log: code and scale of its stamps',
      expected: 'time: { code, scale }',
    });
  }
  const lines = splitLines(log.text);
  const spaced = time.code === 'elapsed-dhms' ? findSpacedStamp(lines) : 'none';
  const readLine = makeLineReader(makeStampReader(time, zero), spaced);
  const said = findSaidNumbers(lines, time.code, readLine);
  const bare = findBareSpeakers(
    lines.slice(0, HABIT_LINES).flatMap((text) => readLine(text)?.rest ?? []),
  );
  const builder = makeLogBuilder(fileName);
  remarkSaid(builder, said);
  let open: Open | null = null;
  // Lines under a stamp that cannot be read are of its entry, not of the one above.
  let isRefused = false;
  let rowsRead = 0;
  lines.forEach((text, index) => {
    if (text.trim() === '' || REMARK.test(text)) return;
    const line = index + 1;
    const stamped = said.has(index) ? null : readLine(text);
    if (stamped === null && isPageHeader(text)) return;
    if (stamped === null && beginsLikeStamp(text) && !said.has(index)) {
      rowsRead += 1;
      isRefused = true;
      refuseGarbled(builder, { line, text, code: time.code });
      return;
    }
    if (stamped === null && isRefused) return;
    isRefused = false;
    if (stamped === null && open !== null) {
      const { line: before } = open;
      open = goOn(open, line, text, builder);
      if (open.line !== before) rowsRead += 1;
      return;
    }
    rowsRead += 1;
    if (stamped !== null) {
      if (open !== null) remarkBack(builder, line, stamped.sourceS - open.sourceS);
      close(open, builder);
      open = openAt(stamped.sourceS, line, stamped.rest, bare);
      return;
    }
    const received = text.trim().slice(0, 40);
    const message = `"${received}" starts with no time stamp of the code stated${clockHint(text, time.code)}`;
    builder.reject({ code: 'stamp-not-readable', line, message, received });
  });
  close(open, builder);
  return builder.finish(rowsRead);
}

/** How times of day without a date are read. */
function clockHint(text: string, code: TimeCode): string {
  if (!isDateCode(code) || !/^\W*\d{1,2}:\d{2}:\d{2}/.test(text)) return '';
  return '; times of day without a date are read as elapsed-dhms with their midnight as from';
}

/** Says that lines begin with numbers that are no times. */
function remarkSaid(builder: LogBuilder, said: ReadonlySet<number>): void {
  const [first] = said;
  if (first === undefined) return;
  const line = Math.min(...said) + 1;
  const what = said.size === 1 ? 'this line begins' : `${said.size} lines, this the first, begin`;
  builder.remark({
    code: 'numbers-said',
    line,
    message: `${what} with a number that is taken for words, not for a time`,
  });
}

/** Says where a stamp goes back, with the size. */
function remarkBack(builder: LogBuilder, line: number, stepS: number): void {
  if (stepS >= 0) return;
  const size = `${Number((-stepS).toFixed(3))} s`;
  builder.remark({
    code: 'stamp-goes-back',
    line,
    message: `the stamp is ${size} before the one above it`,
    received: `-${size}`,
  });
}

export const STAMPED_LINES: EventReader = {
  format: 'stamped-lines',
  endings: ['txt', 'log'],
  hasSignature: () => false,
  read: readStampedLines,
};
