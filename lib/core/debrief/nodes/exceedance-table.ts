/** Stretches beyond a limit. */
import { z } from 'zod';
import { cell, keyRun, rowHeader, textRun } from '../resolve-context';
import { defineBlock } from './block';

const CAPTION = 'Stretches beyond a limit';

export const exceedanceTable = defineBlock(
  { caption: z.string().max(300) },
  {
    name: 'exceedanceTable',
    label: 'Exceedance table',
    choices: ({ reconstruction }) =>
      reconstruction.exceedances.length === 0
        ? []
        : [{ label: CAPTION, attributes: { caption: CAPTION } }],
    draft: (section, { reconstruction }) =>
      section === 'rules' && reconstruction.exceedances.length > 0 ? [{ caption: CAPTION }] : [],
    resolve: ({ id, caption }, context) => [
      {
        kind: 'table',
        id,
        number: 0,
        caption: textRun(caption).text,
        columns: [
          { label: 'Rule', align: 'start' },
          { label: 'Start', align: 'end' },
          { label: 'Duration', align: 'end' },
          { label: 'Worst', align: 'end' },
          { label: 'Limit there', align: 'end' },
          { label: 'Worst at', align: 'end' },
        ],
        rows: context.material.reconstruction.exceedances.map((exceedance, index) => {
          const at = `exceedances[${index}]`;
          return [
            rowHeader(exceedance.rule),
            cell(keyRun(context, `${at}.start_s`, { form: 'time' })),
            cell(keyRun(context, `${at}.duration_s`)),
            cell(keyRun(context, `${at}.worst`), 'beyond'),
            cell(keyRun(context, `${at}.limit`)),
            cell(keyRun(context, `${at}.worst_s`, { form: 'time' })),
          ];
        }),
        note: '',
      },
    ],
  },
);
