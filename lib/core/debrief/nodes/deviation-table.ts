/** Closing runs held against the planned rate. */
import type { Phase } from '../../reconstruction/reconstruction';
import { nameFromId } from '../../session/name-from-id';
import { cell, keyRun, rowHeader } from '../resolve-context';
import { captionedTable } from './captioned-table';

const NOTE =
  'Closing rate less the planned rate at the same range; means are over time. The ends of a run, where the rate is still being built up or taken off, and the last 3 m before the port are left out.';

/** The step of a run; with the number of the piece where it was flown in several. */
function runName(phases: readonly Phase[], index: number): string {
  const step = phases[index]?.step ?? null;
  if (step === null) return 'not planned';
  const pieces = phases.flatMap((phase, place) =>
    phase.step === step && phase.rateDeviation !== null ? [place] : [],
  );
  const name = nameFromId(step);
  return pieces.length === 1 ? name : `${name}, piece ${pieces.indexOf(index) + 1}`;
}

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
          rowHeader(runName(context.material.reconstruction.phases, index)),
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
