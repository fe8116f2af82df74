/** The sequence of events as flown, beside the plan. */
import type { SequenceItem } from '../../reconstruction/reconstruction';
import { sequenceKey } from '../counted-figures';
import { cutWords } from '../cut-words';
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

/** Words longer than this are cut: the log has them whole. */
const LONGEST_WORDS = 160;

/** The kind of evidence, with what was written or said. */
function evidenceWords({ seen: [best] }: SequenceItem): string | null {
  if (best === undefined) return null;
  const isWords = best.kind === 'written' || best.kind === 'voice';
  if (!isWords || best.words === '') return best.kind;
  return cutWords(`${best.kind}: ${best.words}`, LONGEST_WORDS);
}

/**
 * One thing of the sequence; what was planned and not seen says so.
 *
 * @param evidence what the last column says of how it is known
 */
export function sequenceRow(
  context: ResolveContext,
  item: SequenceItem,
  evidence: string | null = item.seen[0]?.kind ?? null,
): readonly TableCell[] {
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
    cell(evidence),
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
    context.material.reconstruction.sequence.map((item) =>
      sequenceRow(context, item, evidenceWords(item)),
    ),
});
