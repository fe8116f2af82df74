/**
 * The registry of rule kinds. Two of them are general, a band and events; the plain forms of the rule
 * file are evaluated as the general shape they map onto.
 */
import { generalRule } from '../session/general-rule';
import type { Rule } from '../session/rule';
import { evaluateEventsRule } from './event-rules';
import { evaluateBandRule } from './quantity-rule';
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

const FILE_KINDS: readonly Rule['kind'][] = [
  'quantity',
  'order',
  'never',
  'duration',
  'band',
  'events',
];

function isFileRule(rule: KindedRule): rule is Rule {
  return FILE_KINDS.some((kind) => kind === rule.kind);
}

/** Evaluates a rule of the rule file as the general shape it is or maps onto. */
function evaluateGeneral(rule: Rule, context: RuleContext): RuleOutcome {
  const general = generalRule(rule);
  return general.kind === 'band'
    ? evaluateBandRule(general, context)
    : evaluateEventsRule(general, context);
}

/** The kinds of the rule file. */
export const RULE_KINDS: RuleKindRegistry = new Map(
  FILE_KINDS.map((kind) => registerRuleKind({ kind, evaluate: evaluateGeneral }, isFileRule)),
);

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
