/** Phases as they were commanded, beside the motion that carried them out. */
import { RUN_WORDS } from '../../reconstruction/kind-words';
import type { CommandedPhase } from '../../reconstruction/reconstruction';
import { nameOfRun } from '../../reconstruction/run-name';
import { nameFromId } from '../../session/name-from-id';
import { cell, keyRun, type ResolveContext, rowHeader } from '../resolve-context';
import type { TableCell } from '../resolved';
import { captionedTable } from './captioned-table';

function commandedRow(
  context: ResolveContext,
  each: CommandedPhase,
  index: number,
): readonly TableCell[] {
  const at = `commanded[${index}]`;
  const { reconstruction } = context.material;
  const run = each.run === null ? null : nameOfRun(reconstruction, each.run);
  const said = [run, each.why].filter((part) => part !== null).join('; ');
  const begun = each.run === null ? null : keyRun(context, `phases[${each.run}].start_s`, TIME);
  const asked = each.motion !== null;
  return [
    rowHeader(nameFromId(each.name)),
    cell(each.motion === null ? 'no motion' : RUN_WORDS[each.motion]),
    cell(keyRun(context, `${at}.start_s`, TIME)),
    cell(said === '' ? null : said, asked && each.run === null ? 'unsure' : 'plain'),
    cell(begun),
    cell(keyRun(context, `${at}.delay_s`, { form: 'signed' })),
  ];
}

const TIME = { form: 'time' } as const;

/** One row a stretch of one commanded mode; only where a source declares its modes. */
export const commandedTable = captionedTable({
  name: 'commandedTable',
  label: 'Table of commanded phases',
  caption: 'Phases as commanded, beside the motion',
  section: 'steps',
  count: ({ commanded = [] }) => commanded.length,
  columns: [
    { label: 'Mode', align: 'start' },
    { label: 'Asks for', align: 'start' },
    { label: 'Commanded', align: 'end' },
    { label: 'Run of motion', align: 'start' },
    { label: 'Motion begins', align: 'end' },
    { label: 'Delay', align: 'end' },
  ],
  rows: (context) =>
    (context.material.reconstruction.commanded ?? []).map((each, index) =>
      commandedRow(context, each, index),
    ),
  note: () =>
    'Commanded and begun in session time. Delay: start of the run less the command; below 0 where the motion began first.',
});
