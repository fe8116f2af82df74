/** Runs of motion in the order flown. */
import { z } from 'zod';
import { cell, keyRun, rowHeader, textRun } from '../resolve-context';
import { defineBlock } from './block';

const CAPTION = 'Runs of motion in the order flown';

export const phaseTable = defineBlock(
  { caption: z.string().max(300) },
  {
    name: 'phaseTable',
    label: 'Phase table',
    choices: ({ reconstruction }) =>
      reconstruction.phases.length === 0
        ? []
        : [{ label: CAPTION, attributes: { caption: CAPTION } }],
    draft: (section, { reconstruction }) =>
      section === 'flown' && reconstruction.phases.length > 0 ? [{ caption: CAPTION }] : [],
    resolve: ({ id, caption }, context) => [
      {
        kind: 'table',
        id,
        number: 0,
        caption: textRun(caption).text,
        columns: [
          { label: 'Motion', align: 'start' },
          { label: 'Step', align: 'start' },
          { label: 'Start', align: 'end' },
          { label: 'Duration', align: 'end' },
          { label: 'Range at start', align: 'end' },
          { label: 'Range at end', align: 'end' },
          { label: 'Mean closing rate', align: 'end' },
        ],
        rows: context.material.reconstruction.phases.map((phase, index) => {
          const at = `phases[${index}]`;
          return [
            rowHeader(phase.motion),
            phase.step === null ? cell('not planned', 'unsure') : cell(phase.step),
            cell(keyRun(context, `${at}.start_s`, { form: 'time' })),
            cell(keyRun(context, `${at}.duration_s`, { form: 'duration' })),
            cell(keyRun(context, `${at}.range_start_m`)),
            cell(keyRun(context, `${at}.range_end_m`)),
            cell(keyRun(context, `${at}.mean_closing_rate_mps`)),
          ];
        }),
        note: '',
      },
    ],
  },
);
