/** Capture, stage by stage, against the plan. */
import { halfWidth95 } from '../../figure';
import type { CaptureStageResult } from '../../reconstruction/contact-report';
import type { Reconstruction } from '../../reconstruction/reconstruction';
import { nameFromId } from '../../session/name-from-id';
import { minutesText } from '../../time/session-time-text';
import { cell, keyRun, type ResolveContext, rowHeader } from '../resolve-context';
import type { TableCell, TableColumn } from '../resolved';
import { captionedTable } from './captioned-table';

/** Columns of every table of capture stages. */
export const CAPTURE_COLUMNS: readonly TableColumn[] = [
  { label: 'Stage', align: 'start' },
  { label: 'After first touch', align: 'end' },
  { label: 'Planned', align: 'end' },
  { label: 'Flown less planned', align: 'end' },
  { label: 'Shown by', align: 'start' },
];

function plannedText({ plannedS, toleranceS }: CaptureStageResult): string | null {
  if (plannedS === null) return null;
  const planned = minutesText(plannedS, 0);
  return toleranceS === null ? planned : `${planned} \u00b1 ${minutesText(toleranceS, 0)}`;
}

/** Coloured only where the interval of the difference lies wholly inside or outside the tolerance. */
function differenceTone({ differenceS, toleranceS }: CaptureStageResult): TableCell['tone'] {
  const off = differenceS?.value;
  if (off == null || differenceS === null || toleranceS === null) return 'plain';
  const half = halfWidth95(differenceS) ?? 0;
  if (Math.abs(off) + half <= toleranceS) return 'inside';
  return Math.abs(off) - half > toleranceS ? 'beyond' : 'unsure';
}

function stageRow(context: ResolveContext, stage: CaptureStageResult): readonly TableCell[] {
  const at = `capture.${stage.stage}`;
  const best = stage.seen[0];
  const shown = best?.kind ?? (stage.notKnown === undefined ? 'not seen' : 'not known');
  const difference = keyRun(context, `${at}.difference_s`, { form: 'signed' });
  return [
    rowHeader(nameFromId(stage.stage)),
    cell(keyRun(context, `${at}.after_contact_s`, { form: 'duration' })),
    cell(plannedText(stage)),
    cell(difference, differenceTone(stage)),
    cell(stage.outOfOrder ?? shown, best === undefined ? 'unsure' : 'plain'),
  ];
}

/** One row a stage of capture, in the plan's order. */
export function captureRows(context: ResolveContext): readonly (readonly TableCell[])[] {
  const stages = context.material.reconstruction.capture?.stages ?? [];
  return stages.map((stage) => stageRow(context, stage));
}

/** Stages of capture; none where nothing tells of contact or capture. */
export const captureTable = captionedTable({
  name: 'captureTable',
  label: 'Capture table',
  caption: 'Capture, stage by stage',
  section: 'contact',
  count: ({ capture }: Reconstruction) => capture?.stages.length ?? 0,
  columns: CAPTURE_COLUMNS,
  rows: captureRows,
  note: () =>
    'Shown by: the best evidence there is, of motion, a telemetry discrete, a written entry, a voice. Not known: nothing could have shown it.',
});
