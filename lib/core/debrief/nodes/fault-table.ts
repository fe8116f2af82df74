/** Faults of the data: gaps, frozen channels, spikes and the like. */
import { FAULT_WORDS } from '../../reconstruction/kind-words';
import { cell, keyRun, rowHeader } from '../resolve-context';
import { captionedTable } from './captioned-table';

/** Longer lists go out with the data, not in a document. */
const MOST_ROWS = 200;

/** One row a fault, in the order of the reconstruction, the first `MOST_ROWS` of them. */
export const faultTable = captionedTable({
  name: 'faultTable',
  label: 'Data fault table',
  caption: 'Faults of the data',
  section: 'data',
  count: ({ dataQuality }) => dataQuality.length,
  columns: [
    { label: 'Fault', align: 'start' },
    { label: 'Source', align: 'start' },
    { label: 'Channel', align: 'start' },
    { label: 'From', align: 'end' },
    { label: 'Lasts', align: 'end' },
    { label: 'What was seen', align: 'start' },
  ],
  rows: (context) =>
    context.material.reconstruction.dataQuality.slice(0, MOST_ROWS).map((fault, index) => {
      const at = `data_quality[${index}]`;
      return [
        rowHeader(FAULT_WORDS[fault.kind]),
        cell(fault.source),
        cell(fault.channel ?? 'whole source'),
        cell(keyRun(context, `${at}.start_s`, { form: 'time' })),
        cell(keyRun(context, `${at}.duration_s`)),
        cell(fault.note),
      ];
    }),
  note: ({ dataQuality }) =>
    dataQuality.length > MOST_ROWS
      ? `The first ${MOST_ROWS} of ${dataQuality.length} faults; the others are in reconstruction.json.`
      : '',
});
