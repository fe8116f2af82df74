/** Rules that are met because an event is logged nowhere, though no log was there to name it. */
import type { Issue } from '../result';
import { absenceCaution } from '../rules/absence';
import type { RuleContext } from '../rules/rule-context';
import { generalRule } from '../session/general-rule';
import { nameFromId } from '../session/name-from-id';
import type { Rule } from '../session/rule';
import type { RuleResult } from './reconstruction';

/**
 * The contract's verdict stays: this says beside it what it rests on.
 *
 * @returns a warning for each such rule, in the order of the rules
 */
export function absenceNotes(
  rules: readonly Rule[],
  results: readonly RuleResult[],
  context: RuleContext,
): readonly Issue[] {
  return rules.flatMap((rule): Issue[] => {
    const general = generalRule(rule);
    const isMet = results.some(({ id, verdict }) => id === rule.id && verdict === 'met');
    if (!isMet || general.kind !== 'events' || general.ask.form !== 'count') return [];
    const { atLeast, atMost, event } = general.ask;
    if (atMost !== 0 || atLeast !== null) return [];
    const caution = absenceCaution(general.when, context);
    if (caution === null) return [];
    return [
      {
        code: 'absence-not-shown',
        severity: 'warning',
        message: `Rule “${nameFromId(rule.id)}” is met because ${event} is logged nowhere, but ${caution}: whether it occurred is not known.`,
      },
    ];
  });
}
