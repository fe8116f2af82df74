/** Event logs as JSON Lines: one object a line with a stamp and `event`, `text` or `speaker`. */
import type { Parsed } from '../../result';
import { makeStampReader } from '../../time/stamp-reader';
import {
  type EventLog,
  type EventReader,
  type LogText,
  makeLogBuilder,
  refuseLog,
  textOrNull,
} from '../event-reader';
import { splitLines, withoutByteOrderMark } from '../split-lines';

function parseObject(line: string): Record<string, unknown> | null {
  try {
    const value: unknown = JSON.parse(line);
    if (typeof value !== 'object' || value === null || Array.isArray(value)) return null;
    return Object.fromEntries(Object.entries(value));
  } catch {
    // A line that is no JSON is refused like any other bad row.
    return null;
  }
}

/** Text of a stamp; a long number is taken from the line itself, a double would lose its digits. */
function stampText(value: unknown, key: string, line: string): string {
  if (typeof value === 'string') return value;
  if (typeof value !== 'number') return '';
  const quoted = JSON.stringify(key);
  const at = line.indexOf(quoted);
  const digits = /^\s*:\s*(-?[\d.eE+-]+)/.exec(line.slice(at + quoted.length));
  return at >= 0 && digits?.[1] !== undefined ? digits[1] : String(value);
}

function wordOf(value: unknown): string | null {
  return typeof value === 'string' ? textOrNull(value) : null;
}

/**
 * Reads JSON Lines.
 *
 * @returns entries by time; a line that is no object, has no stamp or says nothing is one warning
 *
 * Source: jsonlines.org; blank lines and a byte order mark are let pass.
 */
export function readJsonLines(log: LogText): Parsed<EventLog> {
  const { fileName, time, zero } = log;
  const [key, secondKey] = time?.columns ?? [];
  if (time === null || key === undefined) {
    return refuseLog(fileName, {
      code: 'key-missing',
      message: 'the session file gives no time for this log: key, code and scale of its stamps',
      expected: 'time: { column, code, scale }',
    });
  }
  const readSeconds = makeStampReader(time, zero);
  const builder = makeLogBuilder(fileName);
  let rowsRead = 0;
  splitLines(log.text).forEach((text, index) => {
    if (text.trim() === '') return;
    rowsRead += 1;
    const line = index + 1;
    const row = parseObject(text);
    if (row === null) {
      builder.reject({
        code: 'json-not-readable',
        line,
        message: 'is no JSON object',
        received: text.slice(0, 60),
      });
      return;
    }
    const stamp = stampText(row[key], key, text);
    const second = secondKey === undefined ? '' : stampText(row[secondKey], secondKey, text);
    const sourceS = readSeconds(stamp, second);
    const entry = {
      event: wordOf(row.event),
      text: wordOf(row.text),
      speaker: wordOf(row.speaker),
    };
    if (Number.isNaN(sourceS)) {
      const message = `"${key}" holds no time stamp of the code stated`;
      builder.reject({ code: 'stamp-not-readable', line, message, received: stamp.slice(0, 60) });
    } else if (entry.event === null && entry.text === null && entry.speaker === null) {
      builder.reject({
        code: 'entry-empty',
        line,
        message: 'has a time but neither event, text nor speaker',
      });
    } else builder.accept({ sourceS, sourceEndS: null, ...entry, line });
  });
  return builder.finish(rowsRead);
}

export const JSON_LINES: EventReader = {
  format: 'json-lines',
  endings: ['jsonl', 'ndjson'],
  hasSignature: (text) => /^\s*\{"/.test(withoutByteOrderMark(text.slice(0, 64))),
  read: readJsonLines,
};
