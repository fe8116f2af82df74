/** Stretches beyond a limit. */
import { nameFromId } from '../../session/name-from-id';
import { cell, keyRun, rowHeader } from '../resolve-context';
import { captionedTable } from './captioned-table';

/** One row a stretch, in the order of the reconstruction. */
export const exceedanceTable = captionedTable({
  name: 'exceedanceTable',
  label: 'Exceedance table',
  caption: 'Stretches beyond a limit',
  section: 'rules',
  count: ({ exceedances }) => exceedances.length,
  columns: [
    { label: 'Rule', align: 'start' },
    { label: 'Start', align: 'end' },
    { label: 'Duration', align: 'end' },
    { label: 'Worst', align: 'end' },
    { label: 'Limit there', align: 'end' },
    { label: 'Worst at', align: 'end' },
  ],
  rows: (context) =>
    context.material.reconstruction.exceedances.map((exceedance, index) => {
      const at = `exceedances[${index}]`;
      return [
        rowHeader(nameFromId(exceedance.rule)),
        cell(keyRun(context, `${at}.start_s`, { form: 'time' })),
        cell(keyRun(context, `${at}.duration_s`)),
        cell(keyRun(context, `${at}.worst`), 'beyond'),
        cell(keyRun(context, `${at}.limit`)),
        cell(keyRun(context, `${at}.worst_s`, { form: 'time' })),
      ];
    }),
});
