/** Plain text whose lines start with a stamp: `[003:07:45:12] CREW: Range 200 metres.` */
import type { Parsed } from '../../result';
import { makeStampReader, type StampReader } from '../../time/stamp-reader';
import {
  type EventLog,
  type EventReader,
  type LogText,
  makeLogBuilder,
  refuseLog,
  textOrNull,
} from '../event-reader';
import { splitLines } from '../split-lines';

type Stamped = Readonly<{ sourceS: number; rest: string }>;

/** The stamp at the start of a line, bare or in brackets; one or two words of it. */
function readLine(line: string, readSeconds: StampReader): Stamped | null {
  const bracketed = /^\s*[[(]([^\])]{1,60})[\])]\s*(.*)$/.exec(line);
  if (bracketed !== null) {
    const sourceS = readSeconds(bracketed[1] ?? '');
    return Number.isNaN(sourceS) ? null : { sourceS, rest: bracketed[2] ?? '' };
  }
  const words = /^\s*(\S+)(?:\s+(\S+))?/.exec(line);
  if (words === null) return null;
  const [one = '', first = '', second] = words;
  const both = second === undefined ? NaN : readSeconds(`${first} ${second}`);
  if (!Number.isNaN(both)) return { sourceS: both, rest: line.slice(one.length) };
  const sourceS = readSeconds(first);
  const after = line.slice(line.indexOf(first) + first.length);
  return Number.isNaN(sourceS) ? null : { sourceS, rest: after };
}

/** `CREW: words` to speaker and words; a speaker is short and in capitals. */
function readSpeaker(text: string): Readonly<{ speaker: string | null; text: string | null }> {
  const match = /^\s*([A-Z][A-Z0-9 ._/-]{0,19}):\s*([\s\S]*)$/.exec(text);
  if (match === null) return { speaker: null, text: textOrNull(text.replace(/^[\s:;,-]+/, '')) };
  return { speaker: textOrNull(match[1]), text: textOrNull(match[2]) };
}

/**
 * Reads stamped lines. A line without a stamp goes on with the entry before it; a stamp alone on
 * its line is followed by what was said.
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
  const readSeconds = makeStampReader(time, zero);
  const builder = makeLogBuilder(fileName);
  type Open = { sourceS: number; line: number; said: string[] };
  let open: Open | null = null;
  let rowsRead = 0;
  const close = (entry: Open | null) => {
    if (entry === null) return;
    const said = readSpeaker(entry.said.join(' '));
    const { sourceS, line } = entry;
    if (said.speaker === null && said.text === null) {
      builder.reject({ code: 'entry-empty', line, message: 'a stamp that nothing follows' });
    } else builder.accept({ sourceS, sourceEndS: null, event: null, ...said, line });
  };
  splitLines(log.text).forEach((text, index) => {
    if (text.trim() === '') return;
    const stamped = readLine(text, readSeconds);
    if (stamped !== null) {
      rowsRead += 1;
      close(open);
      open = {
        sourceS: stamped.sourceS,
        line: index + 1,
        said: [stamped.rest.trim()].filter((part) => part !== ''),
      };
    } else if (open !== null) open.said.push(text.trim());
    else {
      rowsRead += 1;
      builder.reject({
        code: 'stamp-not-readable',
        line: index + 1,
        message: `"${text.trim().slice(0, 40)}" starts with no time stamp of the code stated`,
        received: text.trim().slice(0, 40),
      });
    }
  });
  close(open);
  return builder.finish(rowsRead);
}

export const STAMPED_LINES: EventReader = {
  format: 'stamped-lines',
  endings: ['txt', 'log'],
  hasSignature: () => false,
  read: readStampedLines,
};
