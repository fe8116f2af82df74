/** Traces of the estimated motion, for strips and figures. */
import { lowerBound, profileAt } from '../math/search';
import { quantityOf } from '../rules/derived-quantity';
import { limitAlong } from '../rules/quantity-rule';
import { type EstimatedQuantity, isBetween, type RuleContext } from '../rules/rule-context';
import { placesBeside, stateSpans } from '../rules/rule-domain';
import { quantityWords } from '../session/general-rule';
import { limitsOfRule } from '../session/limit-columns';
import type { Plan } from '../session/plan';
import type { BandRule, Limit, Rule } from '../session/rule';
import type { SessionMotion } from './estimated-motion';
import type { FlownPhase } from './phase-figures';
import type { DerivedColumn, DerivedColumns } from './reconstruction';

/** The planned closing rate along the pieces of planned moves, and 0 along planned holds. */
function plannedRate(
  session: SessionMotion,
  plan: Plan,
  phases: readonly FlownPhase[],
): Float64Array {
  const { motion } = session;
  const planned = new Float64Array(motion.tS.length).fill(Number.NaN);
  for (const { run, match } of phases) {
    const step = match.stepIndex === null ? undefined : plan.steps[match.stepIndex];
    if (step === undefined) continue;
    const to = lowerBound(motion.tS, run.endS);
    for (let row = lowerBound(motion.tS, run.startS); row < to; row++) {
      const rangeM = motion.rangeM[row] ?? Number.NaN;
      if (step.kind === 'hold') planned[row] = 0;
      else if (!Number.isNaN(rangeM)) planned[row] = profileAt(step.closingRateMps, rangeM);
    }
  }
  return planned;
}

/** The limit at each row where the rule applies; NaN elsewhere, so that no limit is drawn or read there. */
function limitWhereItApplies(
  { when }: BandRule,
  limit: Limit,
  quantity: EstimatedQuantity,
  context: RuleContext,
): Float64Array {
  const places = placesBeside(quantity, context);
  const value = limitAlong(limit, places);
  const step = when?.step ?? null;
  const span = step === null ? null : context.steps.get(step);
  const fromS = Math.max(context.evaluated?.fromS ?? -Infinity, span?.startS ?? -Infinity);
  const toS = Math.min(context.evaluated?.toS ?? Infinity, span?.endS ?? Infinity);
  const isInMode = modeRows(when?.mode ?? null, quantity.tS, context);
  for (let row = 0; row < value.length; row++) {
    const atS = quantity.tS[row] ?? Number.NaN;
    const inside =
      span !== undefined &&
      atS >= fromS &&
      atS <= toS &&
      isInMode(row) &&
      isBetween(places.rangeM[row] ?? Number.NaN, when?.rangeM ?? null) &&
      isBetween(places.axialM[row] ?? Number.NaN, when?.axialM ?? null);
    if (!inside) value[row] = Number.NaN;
  }
  return value;
}

/** Whether a row lies in a stretch with the states asked for; asked in the order of the rows. */
function modeRows(
  mode: NonNullable<BandRule['when']>['mode'],
  tS: Float64Array,
  context: RuleContext,
): (row: number) => boolean {
  if (mode === null) return () => true;
  const column = context.states?.(mode.channel) ?? null;
  const spans = column === null ? [] : stateSpans(column, mode.is);
  let at = 0;
  return (row) => {
    const atS = tS[row] ?? Number.NaN;
    while (at < spans.length && (spans[at]?.toS ?? Infinity) < atS) at++;
    return (spans[at]?.fromS ?? Infinity) <= atS;
  };
}

/** What a rule forms for itself, and its limits, each a column over the rows of the motion. */
function ruleColumns(rule: Rule, context: RuleContext): readonly DerivedColumn[] {
  const limits = limitsOfRule(rule);
  if (limits === null || context.motion === null) return [];
  const quantity = quantityOf(limits.rule.quantity, context);
  if (typeof quantity === 'string' || quantity.tS !== context.motion.tS) return [];
  const { unit } = quantity;
  const label = quantityWords(limits.rule.quantity);
  const formed: readonly DerivedColumn[] = limits.isFormed
    ? [{ name: limits.quantity, label, unit, values: quantity.value }]
    : [];
  return [
    ...formed,
    ...limits.lines.map(({ column, limit }) => ({
      name: column,
      label: `Limit: ${rule.statement}`,
      unit,
      values: limitWhereItApplies(limits.rule, limit, quantity, context),
    })),
  ];
}

/**
 * The estimated motion at each row used, with the planned rate and each rule's limits where they apply.
 *
 * @returns columns over session time; no rows where no motion was estimated
 */
export function derivedColumns(
  session: SessionMotion | null,
  plan: Plan | null,
  rules: readonly Rule[],
  phases: readonly FlownPhase[],
  context: RuleContext,
): DerivedColumns {
  if (session === null) return { tS: new Float64Array(0), columns: [] };
  const { motion } = session;
  const column = (name: string, label: string, unit: string, values: Float64Array) => ({
    name,
    label,
    unit,
    values,
  });
  const columns: DerivedColumn[] = [
    column('range', 'Range', 'm', motion.rangeM),
    column('closing_rate', 'Closing rate', 'm/s', motion.closingMps),
    column('axial_distance', 'Axial distance', 'm', motion.axialM),
    column('axial_closing_rate', 'Axial closing rate', 'm/s', motion.axialClosingMps),
    column('lateral_offset', 'Lateral offset', 'm', motion.lateralM),
    column('offset_y', 'Offset along y', 'm', motion.yM),
    column('offset_z', 'Offset along z', 'm', motion.zM),
  ];
  if (plan !== null) {
    const values = plannedRate(session, plan, phases);
    columns.push(column('planned_closing_rate', 'Planned closing rate', 'm/s', values));
  }
  const ofRules = rules.flatMap((rule) => ruleColumns(rule, context));
  return { tS: motion.tS, columns: [...columns, ...ofRules] };
}
