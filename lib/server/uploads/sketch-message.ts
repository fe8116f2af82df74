/** A look at a CCSDS message: what it is about, and its rows as a table in UTC. */
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { MOST_MESSAGE_CHARACTERS, readCcsdsMessage } from '@/lib/core/intake/formats/ccsds-message';
import { type CcsdsMessage, metadataValue } from '@/lib/core/intake/formats/ccsds-segment';
import { type CcsdsTable, ccsdsTable } from '@/lib/core/intake/formats/ccsds-table';
import type { FileSketch, SketchedTable } from '@/lib/core/intake/proposal/file-sketch';
import { formatInstant } from '@/lib/core/time/format';
import { ROWS_A_PART, tableOfRows } from './sketch-table';

const KINDS = {
  TDM: 'tracking data (CCSDS TDM)',
  OEM: 'an orbit ephemeris (CCSDS OEM)',
  AEM: 'an attitude ephemeris (CCSDS AEM)',
} as const;

/** Parts of a large message that are shown and checked. */
const BLOCKS = 12;

/** Centres that are no vehicle: positions from there are not of one vehicle relative to another. */
const CELESTIAL =
  /\b(?:sun|mercury|venus|earth|moon|mars|jupiter|saturn|uranus|neptune|pluto|ssb|emb)\b|barycent/i;

/** Tracking data and states from another vehicle are samples of an approach; other states are not. */
function isTelemetry(message: CcsdsMessage): boolean {
  if (message.kind !== 'OEM') return message.kind === 'TDM';
  return message.segments.every((segment) => {
    const center = metadataValue(segment, 'CENTER_NAME');
    return center !== null && !CELESTIAL.test(center.replaceAll('_', ' '));
  });
}

function tableOf({ columns, rows }: CcsdsTable): SketchedTable {
  const count = Math.min(BLOCKS, Math.max(1, Math.ceil(rows.length / ROWS_A_PART)));
  const last = Math.max(0, rows.length - ROWS_A_PART);
  const blocks = Array.from({ length: count }, (_, block) => {
    const evenly = count === 1 ? 0 : Math.round((last * block) / (count - 1));
    const from = Math.max(ROWS_A_PART * block, evenly);
    return rows.slice(from, from + ROWS_A_PART);
  });
  const utc = ({ taiNs }: CcsdsTable['rows'][number]) =>
    formatInstant({ taiNs }, 'UTC', { decimals: 9 });
  const cells = blocks.map((block) => block.map((row) => [utc(row), ...row.cells]));
  const lines = blocks[0]?.map(({ line }) => line) ?? [];
  const names = ['time', ...columns.map(({ name }) => name)];
  const units = ['', ...columns.map(({ unit }) => unit ?? '')];
  return { ...tableOfRows(names, cells, lines), units };
}

/** Reads a message whole; what cannot be read is said, with the line. */
export async function sketchMessage(
  folder: string,
  { file, bytes }: Pick<FileSketch, 'file' | 'bytes'>,
): Promise<FileSketch> {
  const base = {
    file,
    bytes,
    kind: 'other',
    table: null,
    lines: [],
    ownTimes: false,
    spokenRanges: 0,
    instead: 'mend the message, or ask for it again',
  } as const;
  if (bytes > MOST_MESSAGE_CHARACTERS)
    return { ...base, said: 'a CCSDS message, too large to read', instead: 'send it in parts' };
  const { value, issues } = readCcsdsMessage(await readFile(path.join(folder, file), 'utf8'), file);
  if (value === null) {
    const fault = issues.find(({ severity }) => severity === 'error');
    const line = fault?.line === undefined ? '' : ` in line ${fault.line}`;
    return { ...base, said: `a CCSDS message with a fault${line}: ${fault?.message ?? ''}` };
  }
  const { length } = value.segments;
  const said = `${KINDS[value.kind]} in ${length} ${length === 1 ? 'segment' : 'segments'}`;
  const table = tableOf(ccsdsTable(value, file));
  const kind = isTelemetry(value) ? 'table' : 'ephemeris';
  return { ...base, said, kind, table, ownTimes: true, instead: null };
}
