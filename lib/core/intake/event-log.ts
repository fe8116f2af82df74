/** Reads a log in whatever format it is. */
import type { Parsed } from '../result';
import { type EventLog, type EventReader, type LogText, refuseLog } from './event-reader';
import { EVENT_READERS } from './formats/registry';
import { readInDateOrder } from './log-date-order';
import { carryLog } from './log-days';

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
  const read = readInDateOrder(log, reader.read);
  const { value, issues } = read;
  if (value?.rowsRead === 0) return { value, issues: [...issues, emptyNote(fileName)] };
  return carryLog(log, read);
}

function emptyNote(fileName: string) {
  return {
    code: 'file-empty',
    severity: 'warning',
    file: fileName,
    message: 'the log holds no entry',
  } as const;
}
