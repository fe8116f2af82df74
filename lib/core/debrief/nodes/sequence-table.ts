/** The sequence of events as flown, beside the plan. */
import type { SequenceItem } from '../../reconstruction/reconstruction';
import { sequenceKey } from '../counted-figures';
import { cell, keyRun, type ResolveContext, rowHeader } from '../resolve-context';
import type { TableCell, TableColumn } from '../resolved';
import { captionedTable } from './captioned-table';

/** Columns of every table of the sequence. */
export const SEQUENCE_COLUMNS: readonly TableColumn[] = [
  { label: 'What', align: 'start' },
  { label: 'Flown', align: 'end' },
  { label: 'Planned', align: 'end' },
  { label: 'Flown less planned', align: 'end' },
  { label: 'Shown by', align: 'start' },
];

/** One thing of the sequence; what was planned and not seen says so. */
export function sequenceRow(context: ResolveContext, item: SequenceItem): readonly TableCell[] {
  const at = sequenceKey(item);
  const [best] = item.seen;
  const brief = { form: 'time', uncertainty: 'without' } as const;
  return [
    rowHeader(item.what),
    best === undefined
      ? cell('not seen', 'unsure')
      : cell(keyRun(context, `${at}.flown_s`, { ...brief, digits: 1 })),
    cell(keyRun(context, `${at}.planned_s`, { ...brief, digits: 0 })),
    cell(keyRun(context, `${at}.difference_s`, { form: 'signed-duration' })),
    cell(best?.kind ?? null),
  ];
}

/** The sequence of events as flown. */
export const sequenceTable = captionedTable({
  name: 'sequenceTable',
  label: 'Sequence table',
  caption: 'Sequence of events as flown',
  section: 'flown',
  count: ({ sequence }) => sequence.length,
  columns: SEQUENCE_COLUMNS,
  rows: (context) =>
    context.material.reconstruction.sequence.map((item) => sequenceRow(context, item)),
});
