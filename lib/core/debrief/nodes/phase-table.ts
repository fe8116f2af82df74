/** Runs of motion in the order flown. */

import { flownAgain, runKind } from '../../reconstruction/flight-course';
import { RUN_WORDS } from '../../reconstruction/kind-words';
import { nameFromId } from '../../session/name-from-id';
import { cell, keyRun, rowHeader } from '../resolve-context';
import { captionedTable } from './captioned-table';

/** One row a run of motion; a run that no step of the plan asked for says so. */
export const phaseTable = captionedTable({
  name: 'phaseTable',
  label: 'Phase table',
  caption: 'Runs of motion in the order flown',
  section: 'flown',
  count: ({ phases }) => phases.length,
  columns: [
    { label: 'Motion', align: 'start' },
    { label: 'Step', align: 'start' },
    { label: 'Start', align: 'end' },
    { label: 'Duration', align: 'end' },
    { label: 'Range at start', align: 'end' },
    { label: 'Range at end', align: 'end' },
    { label: 'Mean closing rate', align: 'end' },
  ],
  rows: (context) =>
    context.material.reconstruction.phases.map((phase, index) => {
      const at = `phases[${index}]`;
      const again = flownAgain(context.material.reconstruction, index);
      const unplanned = again === null ? 'not planned' : `${nameFromId(again)} again`;
      return [
        rowHeader(RUN_WORDS[runKind(context.material.reconstruction, index)]),
        phase.step === null ? cell(unplanned, 'unsure') : cell(nameFromId(phase.step)),
        cell(keyRun(context, `${at}.start_s`, { form: 'time' })),
        cell(keyRun(context, `${at}.duration_s`, { form: 'duration' })),
        cell(keyRun(context, `${at}.range_start_m`)),
        cell(keyRun(context, `${at}.range_end_m`)),
        cell(keyRun(context, `${at}.mean_closing_rate_mps`)),
      ];
    }),
});
