/** Reads a log in whatever format it is. */
import type { Issue, Parsed } from '../result';
import type { LogEntry } from '../session/session-input';
import { DAY_S } from '../time/calendar';
import { type EventLog, type EventReader, type LogText, refuseLog } from './event-reader';
import { EVENT_READERS } from './formats/registry';

/** The reader for a file: its first characters decide, then its name; null where neither does. */
function findEventReader(
  fileName: string,
  text: string,
  readers: readonly EventReader[],
): EventReader | null {
  const ending = fileName.toLowerCase().replace(/\.gz$/, '').split('.').at(-1) ?? '';
  return (
    readers.find((reader) => reader.hasSignature(text)) ??
    readers.find((reader) => reader.endings.includes(ending)) ??
    null
  );
}

/**
 * Reads an event or voice log.
 *
 * @param log the whole file as text; its name, which tells the format with the first characters
 *   and is named in issues; how the stamps are written; the instant of session time 0
 * @param readers the formats to try, the registry's unless given
 * @returns entries on the source's own clock in seconds from zero, by time, with the count of rows
 *   or cues read and refused; null where the file cannot be used
 */
export function readEventLog(
  log: LogText,
  readers: readonly EventReader[] = EVENT_READERS,
): Parsed<EventLog> {
  const { text, fileName } = log;
  if (text.trim() === '') {
    return { value: { entries: [], rowsRead: 0, rowsRejected: 0 }, issues: [emptyNote(fileName)] };
  }
  const reader = findEventReader(fileName, text, readers);
  if (reader === null || text.slice(0, 4096).includes('\u0000')) {
    const known = readers.flatMap((each) => each.endings).join(', ');
    return refuseLog(fileName, {
      code: 'format-unknown',
      message: `is no log format that is read here; known file names end in ${known}`,
      expected: known,
      received: fileName,
    });
  }
  const { value, issues } = reader.read(log);
  if (value?.rowsRead === 0) return { value, issues: [...issues, emptyNote(fileName)] };
  if (value === null || log.time?.code !== 'elapsed-dhms') return { value, issues };
  return { value, issues: [...issues, ...midnightIssue(value.entries, fileName)] };
}

/**
 * Times of day that begin again at midnight: nothing in the file says which day is meant, so that
 * they are not carried on, and this is said.
 */
function midnightIssue(entries: readonly LogEntry[], fileName: string): readonly Issue[] {
  const rows = [...entries].sort((a, b) => a.line - b.line);
  const at = rows.findIndex(({ sourceS }, index) => {
    const backS = (rows[index - 1]?.sourceS ?? sourceS) - sourceS;
    return backS > DAY_S / 2 && backS < DAY_S;
  });
  const [before, after] = [rows[at - 1], rows[at]];
  if (before === undefined || after === undefined) return [];
  const backS = Number((before.sourceS - after.sourceS).toFixed(3));
  return [
    {
      code: 'clock-begins-again',
      severity: 'warning',
      file: fileName,
      line: after.line,
      message: `the time is ${backS} s before that of line ${before.line}, as on a clock that begins again at midnight; times are not carried on over midnight, so write the day too (1:00:00:05) or dates`,
      expected: 'times that go on over midnight',
      received: `-${backS} s`,
    },
  ];
}

function emptyNote(fileName: string) {
  return {
    code: 'file-empty',
    severity: 'warning',
    file: fileName,
    message: 'the log holds no entry',
  } as const;
}
