/** Source files with their clocks. */
import { z } from 'zod';
import { cell, keyRun, rowHeader, textRun } from '../resolve-context';
import { defineBlock } from './block';

const CAPTION = 'Sources and their clocks';

export const sourceTable = defineBlock(
  { caption: z.string().max(300) },
  {
    name: 'sourceTable',
    label: 'Source table',
    choices: () => [{ label: CAPTION, attributes: { caption: CAPTION } }],
    draft: (section) => (section === 'data' ? [{ caption: CAPTION }] : []),
    resolve: ({ id, caption }, context) => [
      {
        kind: 'table',
        id,
        number: 0,
        caption: textRun(caption).text,
        columns: [
          { label: 'File', align: 'start' },
          { label: 'Kind', align: 'start' },
          { label: 'Rows read', align: 'end' },
          { label: 'Rejected', align: 'end' },
          { label: 'Clock offset', align: 'end' },
          { label: 'Clock drift', align: 'end' },
          { label: 'SHA-256', align: 'start' },
        ],
        rows: context.material.reconstruction.sources.map((source) => [
          rowHeader(source.file),
          cell(source.type),
          cell(String(source.rowsRead)),
          cell(String(source.rowsRejected), source.rowsRejected > 0 ? 'unsure' : 'plain'),
          cell(keyRun(context, `sources[${source.file}].clock.offset_s`, { form: 'signed' })),
          cell(keyRun(context, `sources[${source.file}].clock.drift_ppm`, { form: 'signed' })),
          cell(`${source.sha256.slice(0, 16)}\u2026`),
        ]),
        note: 'Session time = offset + the source\u2019s own time x (1 + drift). The whole hashes stand under the evidence.',
      },
    ],
  },
);
