/** Faults of the data: gaps, frozen channels, spikes and the like. */
import { z } from 'zod';
import { cell, keyRun, rowHeader, textRun } from '../resolve-context';
import { defineBlock } from './block';

const CAPTION = 'Faults of the data';

/** Longer lists go out with the data, not in a document. */
const MOST_ROWS = 200;

export const faultTable = defineBlock(
  { caption: z.string().max(300) },
  {
    name: 'faultTable',
    label: 'Data fault table',
    choices: ({ reconstruction }) =>
      reconstruction.dataQuality.length === 0
        ? []
        : [{ label: CAPTION, attributes: { caption: CAPTION } }],
    draft: (section, { reconstruction }) =>
      section === 'data' && reconstruction.dataQuality.length > 0 ? [{ caption: CAPTION }] : [],
    resolve: ({ id, caption }, context) => {
      const faults = context.material.reconstruction.dataQuality;
      return [
        {
          kind: 'table',
          id,
          number: 0,
          caption: textRun(caption).text,
          columns: [
            { label: 'Fault', align: 'start' },
            { label: 'Source', align: 'start' },
            { label: 'Channel', align: 'start' },
            { label: 'From', align: 'end' },
            { label: 'Lasts', align: 'end' },
            { label: 'What was seen', align: 'start' },
          ],
          rows: faults.slice(0, MOST_ROWS).map((fault, index) => {
            const at = `data_quality[${index}]`;
            return [
              rowHeader(fault.kind.replaceAll('_', ' ')),
              cell(fault.source),
              cell(fault.channel ?? 'whole source'),
              cell(keyRun(context, `${at}.start_s`, { form: 'time' })),
              cell(keyRun(context, `${at}.duration_s`)),
              cell(fault.note),
            ];
          }),
          note:
            faults.length > MOST_ROWS
              ? `The first ${MOST_ROWS} of ${faults.length} faults; the others are in reconstruction.json.`
              : '',
        },
      ];
    },
  },
);
