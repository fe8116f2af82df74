/** The flight among its simulator runs: axis by axis, and the numbers of the whole step. */
import type { AxisRatio, Comparison } from '../../reconstruction/comparison';
import { cell, keyRun, type ResolveContext, rowHeader } from '../resolve-context';
import type { TableCell, Tone } from '../resolved';
import { captionedTable } from './captioned-table';

const NOTE =
  'Over the time of the final step. An axis is called loose or tight when its deviation lies beyond all of at least twenty runs, and so far beyond the farthest of them, counted from their median, as seldom happens by chance (42 % of its way with 60 runs, 94 % with 20, 20 % from 127 on): a few of 100 usual flights have such an axis. “Not far” is beyond all runs by less.';

const TONES: Readonly<Record<AxisRatio['verdict'], Tone>> = {
  loose: 'beyond',
  tight: 'unsure',
  beyond: 'plain',
  usual: 'plain',
  'not known': 'unsure',
};

function comparisonOf(context: ResolveContext): Comparison | null {
  return context.material.reconstruction.comparison;
}

const WORDS: Partial<Record<AxisRatio['verdict'], string>> = { beyond: 'beyond all runs, not far' };

function axisRow(
  context: ResolveContext,
  { axis, label, verdict }: AxisRatio,
): readonly TableCell[] {
  const prefix = `${axis.replace('.', '_')}_std_final_`;
  const score = comparisonOf(context)?.scores.find(({ name }) => name.startsWith(prefix));
  const at = `comparison.scores[${score?.name ?? ''}]`;
  return [
    rowHeader(label),
    cell(keyRun(context, `${at}.flight`)),
    cell(keyRun(context, `${at}.sim_median`)),
    cell(keyRun(context, `comparison.axes[${axis}].ratio`)),
    cell(WORDS[verdict] ?? verdict, TONES[verdict]),
  ];
}

/** One row an axis that flight and runs have. */
export const axisTable = captionedTable({
  name: 'axisTable',
  label: 'Axis table, flown and simulated',
  caption: 'Deviation axis by axis, flown and simulated',
  section: 'comparison',
  count: ({ comparison }) => comparison?.axes.length ?? 0,
  columns: [
    { label: 'Axis', align: 'start' },
    { label: 'Flown', align: 'end' },
    { label: 'Median run', align: 'end' },
    { label: 'Ratio', align: 'end' },
    { label: 'Says', align: 'start' },
  ],
  rows: (context) => (comparisonOf(context)?.axes ?? []).map((axis) => axisRow(context, axis)),
  note: () => NOTE,
});

/** One row a score, those that stand out first. */
export const comparisonTable = captionedTable({
  name: 'comparisonTable',
  label: 'Comparison table, flight among the runs',
  caption: 'Numbers of the final step, the flight among the runs',
  section: 'comparison',
  count: ({ comparison }) => comparison?.scores.length ?? 0,
  columns: [
    { label: 'Number', align: 'start' },
    { label: 'Flight', align: 'end' },
    { label: 'Median run', align: 'end' },
    { label: '95th percentile', align: 'end' },
    { label: 'Runs below', align: 'end' },
    { label: 'Of', align: 'end' },
  ],
  rows: (context) => {
    const scores = comparisonOf(context)?.scores ?? [];
    const ordered = [
      ...scores.filter(({ standsOut }) => standsOut),
      ...scores.filter(({ standsOut }) => !standsOut),
    ];
    return ordered.map(({ name, label, runs, standsOut }) => {
      const at = `comparison.scores[${name}]`;
      return [
        rowHeader(standsOut ? `${label} (stands out)` : label),
        cell(keyRun(context, `${at}.flight`), standsOut ? 'beyond' : 'plain'),
        cell(keyRun(context, `${at}.sim_median`)),
        cell(keyRun(context, `${at}.sim_p95`)),
        cell(keyRun(context, `${at}.runs_below`)),
        cell(String(runs)),
      ];
    });
  },
  note: () => NOTE,
});
