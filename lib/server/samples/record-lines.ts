/** From the number of a row back to its line in the source, for rows that something is said about. */
import { readBlocks } from './read-blocks';

const LF = 0x0a;
const CR = 0x0d;

export type RecordQuestion = Readonly<{
  file: string;
  /** 1-based line on which the data starts. */
  firstDataLine: number;
  /** Byte of the quote when the file holds any; line ends inside quotes end no record. */
  quote: number | null;
  /** Last byte of the separator: a quote counts only where a cell begins, and in a quoted cell. */
  separator: number;
  /** 1-based record numbers as DuckDB counts them (blank lines included) that are no rows. */
  setAside: ReadonlySet<number>;
  /** Rows asked for, 0-based, ascending. */
  rows: readonly number[];
}>;

export type RecordLines = Readonly<{
  lineOfRow: ReadonlyMap<number, number>;
  /** Line on which a set-aside record starts. */
  lineOfRecord: ReadonlyMap<number, number>;
}>;

const SPACE = 0x20;

/** Where in a cell the walk stands; `closed` is behind a quote that may be the first of two. */
type Place = 'start' | 'bare' | 'quoted' | 'closed';

function nextPlace(place: Place, byte: number, { quote, separator }: RecordQuestion): Place {
  if (byte === quote && place !== 'bare') return place === 'quoted' ? 'closed' : 'quoted';
  if (place === 'quoted') return place;
  if (byte === separator) return 'start';
  return place === 'start' && byte === SPACE ? 'start' : 'bare';
}

type Walk = {
  line: number;
  record: number;
  row: number;
  recordLine: number;
  recordBytes: number;
  place: Place;
  lastByte: number;
};

/**
 * Reads the file until every row asked for has been met.
 *
 * A record with no character at all is no row, as in DuckDB's reader.
 */
export async function findRecordLines(question: RecordQuestion): Promise<RecordLines> {
  const lineOfRow = new Map<number, number>();
  const lineOfRecord = new Map<number, number>();
  const walk: Walk = {
    line: 1,
    record: 1,
    row: 0,
    recordLine: 1,
    recordBytes: 0,
    place: 'start',
    lastByte: 0,
  };
  let next = 0;
  const endRecord = () => {
    const inData = walk.recordLine >= question.firstDataLine;
    const isBlank = walk.recordBytes === 0 || (walk.recordBytes === 1 && walk.lastByte === CR);
    if (inData && question.setAside.has(walk.record)) {
      lineOfRecord.set(walk.record, walk.recordLine);
    } else if (inData && !isBlank) {
      if (walk.row === question.rows[next]) {
        lineOfRow.set(walk.row, walk.recordLine);
        next += 1;
      }
      walk.row += 1;
    }
    walk.record += 1;
    walk.recordLine = walk.line;
    walk.recordBytes = 0;
  };
  const isDone = () => next >= question.rows.length && lineOfRecord.size >= question.setAside.size;
  for await (const chunk of await readBlocks(question.file, { mostBytes: 1 << 20 })) {
    const block: Buffer = chunk;
    for (let at = 0; at < block.length; at += 1) {
      const byte = block[at] ?? 0;
      if (byte === LF) {
        walk.line += 1;
        // Quotes above the data (a remark with an apostrophe) close nothing and open nothing.
        const isAbove = walk.recordLine < question.firstDataLine;
        if (isAbove || walk.place !== 'quoted') {
          walk.place = 'start';
          endRecord();
          walk.lastByte = LF;
          continue;
        }
      } else walk.place = nextPlace(walk.place, byte, question);
      walk.recordBytes += 1;
      walk.lastByte = byte;
    }
    if (isDone()) break;
  }
  if (walk.recordBytes > 0) endRecord();
  return { lineOfRow, lineOfRecord };
}
