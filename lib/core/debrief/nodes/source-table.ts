/** Source files with their clocks. */
import { formatCount } from '../../units/number-text';
import { cell, keyRun, rowHeader } from '../resolve-context';
import { captionedTable } from './captioned-table';

const CLOCK_NOTE =
  'Session time = offset + the source\u2019s own time x (1 + drift). The whole hashes stand under Record.';

/** One row a file: what was read from it and how its clock lies on session time. */
export const sourceTable = captionedTable({
  name: 'sourceTable',
  label: 'Source table',
  caption: 'Sources and their clocks',
  section: 'data',
  count: ({ sources }) => sources.length,
  columns: [
    { label: 'File', align: 'start' },
    { label: 'Kind', align: 'start' },
    { label: 'Rows read', align: 'end' },
    { label: 'Rejected', align: 'end' },
    { label: 'Clock offset', align: 'end' },
    { label: 'Clock drift', align: 'end' },
    { label: 'SHA-256', align: 'start' },
  ],
  rows: (context) =>
    context.material.reconstruction.sources.map((source) => [
      rowHeader(source.file),
      cell(source.type),
      cell(formatCount(source.rowsRead)),
      cell(formatCount(source.rowsRejected), source.rowsRejected > 0 ? 'unsure' : 'plain'),
      cell(keyRun(context, `sources[${source.file}].clock.offset_s`, { form: 'signed' })),
      cell(keyRun(context, `sources[${source.file}].clock.drift_ppm`, { form: 'signed' })),
      cell(`${source.sha256.slice(0, 16)}\u2026`),
    ]),
  note: () => CLOCK_NOTE,
});
