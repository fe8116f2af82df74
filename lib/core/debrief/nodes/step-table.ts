/** Steps of the plan beside what was flown. */

import { type Unflown, unflownWhy } from '../../reconstruction/flight-course';
import { completionOf } from '../../reconstruction/kind-words';
import type { StepResult } from '../../reconstruction/reconstruction';
import { nameFromId } from '../../session/name-from-id';
import { minutesText } from '../../time/session-time-text';
import { cell, keyRun, type ResolveContext, rowHeader, textRun } from '../resolve-context';
import { captionedTable } from './captioned-table';

const ABSENT: Readonly<Record<Unflown, string>> = {
  'not flown': 'not flown',
  'passed over': 'no run of its own',
  'broken off': 'not flown: broken off',
  'before the data': 'before the data',
  'after the data': 'not seen',
};

function stepRow(context: ResolveContext, step: StepResult, index: number) {
  const at = `steps[${step.id}]`;
  const flown = completionOf(step);
  const pieces =
    step.pieces === 0 ? ABSENT[unflownWhy(context.material.reconstruction, index)] : flown;
  const inPieces = step.pieces > 1 ? `${pieces}, in ${step.pieces} pieces` : pieces;
  return [
    rowHeader(nameFromId(step.id)),
    cell(keyRun(context, `${at}.start_s`, { form: 'time' })),
    cell(textRun(minutesText(step.plannedS, 0))),
    cell(keyRun(context, `${at}.duration_s`, { form: 'duration' })),
    cell(keyRun(context, `${at}.duration_deviation_s`, { form: 'signed-duration' })),
    cell(inPieces, flown === 'completed' ? 'plain' : 'unsure'),
  ];
}

/** One row a step, in the plan's order. */
export const stepTable = captionedTable({
  name: 'stepTable',
  label: 'Step table',
  caption: 'Steps, planned and flown',
  section: 'steps',
  count: ({ steps }) => steps.length,
  columns: [
    { label: 'Step', align: 'start' },
    { label: 'Start', align: 'end' },
    { label: 'Planned', align: 'end' },
    { label: 'Flown', align: 'end' },
    { label: 'Difference', align: 'end' },
    { label: 'State', align: 'start' },
  ],
  rows: (context) =>
    context.material.reconstruction.steps.map((step, index) => stepRow(context, step, index)),
  note: () => 'Start in session time; planned, flown and difference in minutes and seconds.',
});
