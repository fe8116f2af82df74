/** What people set of phases and contact, with what was computed. */
import type { PhaseEditResult } from '../../reconstruction/phase-edits';
import { nameFromId } from '../../session/name-from-id';
import { BY_HAND_MARK } from '../figure-text';
import { cell, keyRun, type ResolveContext, rowHeader } from '../resolve-context';
import { captionedTable } from './captioned-table';

function stepCell(step: string | null) {
  return cell(step === null ? 'no step' : nameFromId(step));
}

function standingCell({ outcome }: PhaseEditResult) {
  if (outcome.fault === null) return cell('counts');
  return cell(`not applied: ${outcome.fault}`, 'unsure');
}

function correctionRow(context: ResolveContext, result: PhaseEditResult, index: number) {
  const at = `phase_corrections[${index}]`;
  const { edit } = result;
  const isNaming = edit.kind === 'name-run';
  return [
    rowHeader(result.what),
    isNaming ? stepCell(edit.step) : cell(keyRun(context, `${at}.set_s`, { form: 'time' })),
    isNaming
      ? stepCell(result.computedStep)
      : cell(keyRun(context, `${at}.computed_s`, { form: 'time' })),
    cell(edit.by ?? 'not named'),
    cell(edit.kind === 'contact' ? `${edit.reason ?? ''} (${edit.basis})` : (edit.reason ?? '')),
    standingCell(result),
  ];
}

/** One row a correction, in the order in which they were made. */
export const correctionTable = captionedTable({
  name: 'correctionTable',
  label: 'Correction table',
  caption: 'What people set of phases and contact',
  section: 'data',
  count: ({ phaseEdits }) => phaseEdits?.results.length ?? 0,
  columns: [
    { label: 'What', align: 'start' },
    { label: 'Set to', align: 'end' },
    { label: 'Computed', align: 'end' },
    { label: 'By', align: 'start' },
    { label: 'Why', align: 'start' },
    { label: 'Standing', align: 'start' },
  ],
  rows: (context) =>
    (context.material.reconstruction.phaseEdits?.results ?? []).map((result, index) =>
      correctionRow(context, result, index),
    ),
  note: () => `Numbers of this document that rest on one of these carry ${BY_HAND_MARK}.`,
});
