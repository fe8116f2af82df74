/** Changes proposed for the simulator's model, with the figures that speak for them. */
import type { ModelChange } from '../../findings/model-change';
import type { ResolveContext } from '../resolve-context';
import { cell, numberRun, rowHeader, textRun } from '../resolve-context';
import type { Run, TableCell } from '../resolved';
import { formForKey } from '../value-choices';
import { captionedTable } from './captioned-table';

function standing(changes: readonly ModelChange[] = []): readonly ModelChange[] {
  return changes.filter(({ removed }) => removed === 'standing');
}

/** Every captured figure with its name, one after the other. */
function evidenceCell(context: ResolveContext, { figures }: ModelChange): TableCell {
  const runs = figures.flatMap(({ key, label, figure }, index): Run[] => [
    textRun(`${index === 0 ? '' : '; '}${label}: `),
    numberRun(context, figure, { key, form: formForKey(key) }),
  ]);
  return runs.length === 0 ? cell(null) : { ...cell(null), runs };
}

/** One row a change that stands. */
export const modelChangeTable = captionedTable({
  name: 'modelChangeTable',
  label: 'Model change table',
  caption: 'Changes proposed for the simulator’s model',
  section: 'comparison',
  count: (_, { modelChanges }) => standing(modelChanges).length,
  columns: [
    { label: 'Parameter', align: 'start' },
    { label: 'Now', align: 'start' },
    { label: 'Proposed', align: 'start' },
    { label: 'Evidence', align: 'start' },
    { label: 'Owner', align: 'start' },
    { label: 'State', align: 'start' },
  ],
  rows: (context) =>
    standing(context.material.modelChanges).map((change) => [
      rowHeader(change.parameter),
      cell(change.now),
      cell(change.proposed),
      evidenceCell(context, change),
      cell(change.owner === '' ? null : change.owner),
      cell(change.state),
    ]),
});
