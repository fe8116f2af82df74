/** The registry of rule kinds: one entry evaluates all rules of its kind. */
import type { DurationRule, NeverRule, OrderRule, QuantityRule } from '../session/rule';
import { evaluateDurationRule, evaluateNeverRule, evaluateOrderRule } from './event-rules';
import { evaluateQuantityRule } from './quantity-rule';
import type { RuleContext } from './rule-context';
import type { RuleOutcome } from './rule-outcome';

/** Any rule, whatever its kind. */
export type KindedRule = Readonly<{ id: string; kind: string }>;

/** A kind of rule. `evaluate` is given only rules whose `kind` is this one's. */
export type RuleKind<R extends KindedRule = KindedRule> = Readonly<{
  kind: R['kind'];
  evaluate: (rule: R, context: RuleContext) => RuleOutcome;
}>;

export type RuleKindRegistry = ReadonlyMap<
  string,
  (rule: KindedRule, context: RuleContext) => RuleOutcome
>;

/**
 * A registry entry that takes rules of any kind and hands on its own.
 *
 * @param kind name and evaluation of the kind
 * @param isOwn tells a rule of this kind from others
 */
export function registerRuleKind<R extends KindedRule>(
  kind: RuleKind<R>,
  isOwn: (rule: KindedRule) => rule is R,
): readonly [string, (rule: KindedRule, context: RuleContext) => RuleOutcome] {
  return [
    kind.kind,
    (rule, context) => {
      if (!isOwn(rule)) throw new Error(`invariant: ${rule.kind} is not ${kind.kind}`);
      return kind.evaluate(rule, context);
    },
  ];
}

const isQuantity = (rule: KindedRule): rule is QuantityRule => rule.kind === 'quantity';
const isOrder = (rule: KindedRule): rule is OrderRule => rule.kind === 'order';
const isNever = (rule: KindedRule): rule is NeverRule => rule.kind === 'never';
const isDuration = (rule: KindedRule): rule is DurationRule => rule.kind === 'duration';

/** The kinds of the rule file. */
export const RULE_KINDS: RuleKindRegistry = new Map([
  registerRuleKind({ kind: 'quantity', evaluate: evaluateQuantityRule }, isQuantity),
  registerRuleKind({ kind: 'order', evaluate: evaluateOrderRule }, isOrder),
  registerRuleKind({ kind: 'never', evaluate: evaluateNeverRule }, isNever),
  registerRuleKind({ kind: 'duration', evaluate: evaluateDurationRule }, isDuration),
]);

/**
 * Evaluates one rule by its kind.
 *
 * @throws an invariant for a kind that is not registered: the reader refuses such rules
 */
export function evaluateRule(
  rule: KindedRule,
  context: RuleContext,
  kinds: RuleKindRegistry = RULE_KINDS,
): RuleOutcome {
  const evaluate = kinds.get(rule.kind);
  if (evaluate === undefined) throw new Error(`invariant: no rule kind ${rule.kind}`);
  return evaluate(rule, context);
}
