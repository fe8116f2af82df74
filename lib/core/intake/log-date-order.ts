/** Logs with dates that end in the year, where the session file does not state their order. */
import type { Issue, Parsed } from '../result';
import { DATE_ORDERS, type DateOrder } from '../time/time-code';
import type { EventLog, LogText } from './event-reader';
import { dateOrderFault, dateOrderWords } from './stamp-words';

/** Such a date where a cell or a line begins. */
const ENDS_IN_YEAR = /(?:^|[,;\t|"[(])[ \t]*(\d{1,2}([/.-])\d{1,2}\2\d{4})(?=[T ,;\t|"])/m;
/** How much of a log is looked at for one. */
const LOOKED_AT = 262_144;

type Tried = Readonly<{ order: DateOrder; read: Parsed<EventLog>; count: number }>;

/**
 * Reads a log with both orders of its dates, where it has dates that end in the year: the order that
 * reads more of them is the file's.
 *
 * @param readLog the reader
 * @returns what was read; null with an error that names the choice where both orders read as much
 */
export function readInDateOrder(
  log: LogText,
  readLog: (log: LogText) => Parsed<EventLog>,
): Parsed<EventLog> {
  const { time, fileName: file } = log;
  const isOpen = time?.code === 'iso8601' && time.dateOrder === undefined;
  const found = isOpen ? ENDS_IN_YEAR.exec(log.text.slice(0, LOOKED_AT)) : null;
  if (found === null || time === null) return readLog(log);
  const plain = readLog(log);
  const tried = DATE_ORDERS.map((order): Tried => {
    const read = readLog({ ...log, time: { ...time, dateOrder: order } });
    return { order, read, count: read.value?.entries.length ?? 0 };
  });
  const [a, b] = tried;
  const least = plain.value?.entries.length ?? 0;
  if (a === undefined || b === undefined || Math.max(a.count, b.count) <= least) return plain;
  if (a.count === b.count) {
    const issue: Issue = { file, ...dateOrderFault('open', found[1] ?? '') };
    return { value: null, issues: [issue] };
  }
  const { order, read } = a.count > b.count ? a : b;
  return { value: read.value, issues: [{ file, ...dateOrderWords(order) }, ...read.issues] };
}
