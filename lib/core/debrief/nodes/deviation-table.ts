/** Closing runs held against the planned rate. */
import { nameOfRun } from '../../reconstruction/run-name';
import { cell, keyRun, rowHeader } from '../resolve-context';
import { captionedTable } from './captioned-table';

const NOTE =
  'Closing rate less the planned rate at the same range; means are over time. The ends of a run, where the rate is still being built up or taken off, and the last 3 m before the port are left out.';

/** One row a closing run that has a planned rate, in the order flown. */
export const deviationTable = captionedTable({
  name: 'deviationTable',
  label: 'Rate deviation table',
  caption: 'Closing rate against the planned rate',
  section: 'steps',
  count: ({ phases }) => phases.filter(({ rateDeviation }) => rateDeviation !== null).length,
  columns: [
    { label: 'Step', align: 'start' },
    { label: 'Mean', align: 'end' },
    { label: 'RMS', align: 'end' },
    { label: 'Peak', align: 'end' },
    { label: 'Peak at', align: 'end' },
    { label: 'Range there', align: 'end' },
    { label: 'Outside tolerance', align: 'end' },
  ],
  rows: (context) =>
    context.material.reconstruction.phases.flatMap((phase, index) => {
      if (phase.rateDeviation === null) return [];
      const deviation = `phases[${index}].rate_deviation`;
      return [
        [
          rowHeader(nameOfRun(context.material.reconstruction, index)),
          cell(keyRun(context, `${deviation}.mean_mps`, { form: 'signed' })),
          cell(keyRun(context, `${deviation}.rms_mps`)),
          cell(keyRun(context, `${deviation}.peak_mps`, { form: 'signed' })),
          cell(keyRun(context, `${deviation}.peak_s`, { form: 'time' })),
          cell(keyRun(context, `${deviation}.peak_range_m`)),
          cell(keyRun(context, `${deviation}.outside_tolerance_s`)),
        ],
      ];
    }),
  note: () => NOTE,
});
