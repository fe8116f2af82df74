/** Steps of the plan beside what was flown. */
import { z } from 'zod';
import type { StepResult } from '../../reconstruction/reconstruction';
import { minutesText } from '../../time/session-time-text';
import { cell, keyRun, type ResolveContext, rowHeader, textRun } from '../resolve-context';
import { defineBlock } from './block';

function stepRow(context: ResolveContext, step: StepResult) {
  const at = `steps[${step.id}]`;
  const pieces = step.pieces === 0 ? 'not flown' : step.completed ? 'completed' : 'not completed';
  const inPieces = step.pieces > 1 ? `${pieces}, in ${step.pieces} pieces` : pieces;
  return [
    rowHeader(step.id),
    cell(keyRun(context, `${at}.start_s`, { form: 'time' })),
    cell(textRun(minutesText(step.plannedS, 0))),
    cell(keyRun(context, `${at}.duration_s`, { form: 'duration' })),
    cell(keyRun(context, `${at}.duration_deviation_s`, { form: 'signed' })),
    cell(inPieces, step.completed ? 'plain' : 'unsure'),
  ];
}

const CAPTION = 'Steps, planned and flown';

export const stepTable = defineBlock(
  { caption: z.string().max(300) },
  {
    name: 'stepTable',
    label: 'Step table',
    choices: ({ reconstruction }) =>
      reconstruction.steps.length === 0
        ? []
        : [{ label: CAPTION, attributes: { caption: CAPTION } }],
    draft: (section, { reconstruction }) =>
      section === 'steps' && reconstruction.steps.length > 0 ? [{ caption: CAPTION }] : [],
    resolve: ({ id, caption }, context) => [
      {
        kind: 'table',
        id,
        number: 0,
        caption: textRun(caption).text,
        columns: [
          { label: 'Step', align: 'start' },
          { label: 'Start', align: 'end' },
          { label: 'Planned', align: 'end' },
          { label: 'Flown', align: 'end' },
          { label: 'Difference', align: 'end' },
          { label: 'State', align: 'start' },
        ],
        rows: context.material.reconstruction.steps.map((step) => stepRow(context, step)),
        note: 'Start in session time; planned and flown in minutes and seconds.',
      },
    ],
  },
);
