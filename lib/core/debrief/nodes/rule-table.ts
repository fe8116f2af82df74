/** Rules with verdict and margin, the smallest margin first where asked. */

import { z } from 'zod';
import type { RuleResult, Verdict } from '../../reconstruction/reconstruction';
import { nameFromId } from '../../session/name-from-id';
import { cell, keyRun, type ResolveContext, rowHeader } from '../resolve-context';
import type { TableColumn, Tone } from '../resolved';
import { decidedVerdict, explainedWithDecisions } from '../rule-decisions';
import { defineBlock } from './block';
import { tableUnder } from './captioned-table';

const VERDICT_TONE: Readonly<Record<Verdict, Tone>> = {
  met: 'inside',
  broken: 'beyond',
  undecided: 'unsure',
  'not applicable': 'plain',
  'not evaluated': 'unsure',
};

/** The order in which people ask about verdicts. */
const VERDICT_ORDER: readonly Verdict[] = [
  'broken',
  'undecided',
  'not evaluated',
  'met',
  'not applicable',
];

function ruleRow(context: ResolveContext, rule: RuleResult) {
  const written = context.material.reconstruction.ruleSet.find((each) => each.id === rule.id);
  return [
    rowHeader(nameFromId(rule.id)),
    cell(written?.statement ?? ''),
    cell(decidedVerdict(context.material, rule), VERDICT_TONE[rule.verdict]),
    cell(keyRun(context, `rules[${rule.id}].margin`, { form: 'signed' })),
    cell(keyRun(context, `rules[${rule.id}].time_s`, { form: 'time', digits: 1 })),
    cell(explainedWithDecisions(context.material, rule)),
  ];
}

const CAPTION = 'Rules: verdict and margin';

const COLUMNS: readonly TableColumn[] = [
  { label: 'Rule', align: 'start' },
  { label: 'Statement', align: 'start' },
  { label: 'Verdict', align: 'start' },
  { label: 'Margin', align: 'end' },
  { label: 'Decided at', align: 'end' },
  { label: 'Why', align: 'start' },
];

/** One row a rule, those that were broken first; all, or only those that were not met. */
export const ruleTable = defineBlock(
  {
    caption: z.string().max(300),
    verdicts: z.enum(['all', 'not met']),
  },
  {
    name: 'ruleTable',
    label: 'Rule table',
    choices: ({ reconstruction }) =>
      reconstruction.rules.length === 0
        ? []
        : [
            { label: 'All rules', attributes: { caption: CAPTION, verdicts: 'all' } },
            {
              label: 'Rules that were not met',
              attributes: { caption: 'Rules that were not met', verdicts: 'not met' },
            },
          ],
    draft: (section, { reconstruction }) =>
      section === 'rules' && reconstruction.rules.length > 0
        ? [{ caption: CAPTION, verdicts: 'all' }]
        : [],
    resolve: ({ id, caption, verdicts }, context) => {
      const rules = context.material.reconstruction.rules
        .filter((rule) => verdicts === 'all' || rule.verdict !== 'met')
        .map((rule, index) => ({ rule, index }))
        .sort(
          (a, b) =>
            VERDICT_ORDER.indexOf(a.rule.verdict) - VERDICT_ORDER.indexOf(b.rule.verdict) ||
            a.index - b.index,
        );
      return [
        tableUnder(
          { id, caption },
          COLUMNS,
          rules.map(({ rule }) => ruleRow(context, rule)),
          'A margin is the room left before the rule is broken; below zero it is broken. Decided at: where the margin is smallest, or when the event was logged. Undecided: the margin is smaller than its own uncertainty.',
        ),
      ];
    },
  },
);
