/** A CCSDS message to delimited text: a row an instant, on TAI, a column a quantity. */
import { readFile, writeFile } from 'node:fs/promises';
import { MOST_MESSAGE_CHARACTERS, readCcsdsMessage } from '@/lib/core/intake/formats/ccsds-message';
import { ccsdsTable } from '@/lib/core/intake/formats/ccsds-table';
import { hasErrors, type Issue } from '@/lib/core/result';
import type { TimeSpec } from '@/lib/core/time/time-code';
import type { LinePlaces } from './line-places';
import { decodeText, type TextEncoding } from './source-scan';

const TIME = 'time';

export type UnpackedMessage = Readonly<{
  time: TimeSpec;
  units: ReadonlyMap<string, string | null>;
  places: LinePlaces;
  issues: readonly Issue[];
}>;

/** @param time as stated; what stands in it of the stamps gives way to the message's own */
export async function unpackCcsds(
  source: Readonly<{ file: string; name: string; bytes: number; encoding: TextEncoding }>,
  target: string,
  time: TimeSpec,
): Promise<UnpackedMessage> {
  const own: TimeSpec = {
    columns: [TIME],
    code: 'unix-nanoseconds',
    scale: 'TAI',
    from: time.from,
  };
  const refused = (issues: readonly Issue[]) => ({
    time: own,
    units: new Map(),
    places: [],
    issues,
  });
  if (source.bytes > MOST_MESSAGE_CHARACTERS) {
    const message = `has ${source.bytes} bytes; a CCSDS message is read up to ${MOST_MESSAGE_CHARACTERS}`;
    return refused([{ code: 'file-too-large', severity: 'error', file: source.name, message }]);
  }
  const text = decodeText(await readFile(source.file), source.encoding);
  const read = readCcsdsMessage(text, source.name);
  if (read.value === null || hasErrors(read.issues)) return refused(read.issues);
  const table = ccsdsTable(read.value, source.name);
  const names = [TIME, ...table.columns.map(({ name }) => name)];
  const lines = table.rows.map(({ taiNs, cells }) => [String(taiNs), ...cells].join(','));
  await writeFile(target, `${[names.join(','), ...lines].join('\n')}\n`, { flag: 'wx' });
  return {
    time: own,
    units: new Map(table.columns.map(({ name, unit }) => [name, unit])),
    places: table.rows.map(({ line }, at) => ({
      fromLine: at + 2,
      file: source.name,
      shift: at + 2 - line,
    })),
    issues: [...read.issues, ...table.issues],
  };
}
