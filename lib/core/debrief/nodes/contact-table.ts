/** Conditions at contact beside the limits of the docking standard. */
import { z } from 'zod';
import { CONTACT_KEYS } from '../../reconstruction/contract-file';
import { valueInUnit } from '../../reconstruction/display-unit';
import { contactLimitsOf } from '../../rules/contact-limits';
import type { ContactLimit } from '../../session/contact-limit-table';
import { formatNumber } from '../../units/number-text';
import { type ConditionStanding, conditionStandings } from '../contact-standing';
import { cell, keyRun, type ResolveContext, rowHeader } from '../resolve-context';
import type { TableColumn, Tone } from '../resolved';
import { defineBlock } from './block';
import { byHandNote, noteOf, tableUnder } from './captioned-table';

const STANDING: Readonly<Record<ConditionStanding['standing'], readonly [string, Tone]>> = {
  inside: ['inside', 'inside'],
  below: ['below the lower bound', 'beyond'],
  above: ['beyond', 'beyond'],
  near: ['too close to call', 'unsure'],
  'not measured': ['not measured', 'unsure'],
  'not evaluated': ['not evaluated', 'unsure'],
};

/** The key of a condition's figure. */
export function conditionKey(condition: string): string {
  const suffix = CONTACT_KEYS.find(([name]) => name === condition)?.[1] ?? '';
  return `contact.${condition}_${suffix}`;
}

function limitText(limit: ContactLimit): string {
  const unit = limit.unit.replace('rad', 'deg');
  const shown = (value: number) => formatNumber(valueInUnit(value, unit), 2);
  return limit.atLeast === null
    ? `at most ${shown(limit.atMost)} ${unit}`
    : `${shown(limit.atLeast)} to ${shown(limit.atMost)} ${unit}`;
}

function conditionRow(context: ResolveContext, { limit, standing }: ConditionStanding) {
  const [words, tone] = STANDING[standing];
  return [
    rowHeader(limit.label),
    cell(keyRun(context, conditionKey(limit.condition))),
    cell(limitText(limit)),
    cell(words, tone),
  ];
}

const CAPTION = 'Conditions at contact';

const COLUMNS: readonly TableColumn[] = [
  { label: 'Condition', align: 'start' },
  { label: 'Measured', align: 'end' },
  { label: 'Limit', align: 'end' },
  { label: 'Standing', align: 'start' },
];

/** One row a condition at contact: measured, limit, standing. */
export const contactTable = defineBlock(
  { caption: z.string().max(300) },
  {
    name: 'contactTable',
    label: 'Contact table',
    choices: ({ reconstruction }) =>
      reconstruction.contact === null ? [] : [{ label: CAPTION, attributes: { caption: CAPTION } }],
    draft: (section, { reconstruction }) =>
      section === 'contact' && reconstruction.contact !== null ? [{ caption: CAPTION }] : [],
    resolve: ({ id, caption }, context) => {
      const { contact, plan } = context.material.reconstruction;
      if (contact === null) {
        return [
          { kind: 'missing', id, message: 'Contact table: no contact was found in this session.' },
        ];
      }
      const rows = conditionStandings(contact, plan).map((each) => conditionRow(context, each));
      return [
        tableUnder(
          { id, caption },
          COLUMNS,
          rows,
          noteOf(
            contact.notEvaluated === undefined ? '' : `Not evaluated: ${contact.notEvaluated}.`,
            `Limits: ${contactLimitsOf(plan).source}; they hold for a mechanism built to that standard. Attitude error is against command, which is a misalignment only where the target held its own attitude. Too close to call: nearer to the bound than the uncertainty.`,
            byHandNote(rows),
          ),
        ),
      ];
    },
  },
);
