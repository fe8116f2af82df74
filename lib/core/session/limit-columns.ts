/** In which derived columns a rule's limits stand, and beside which quantity. */
import { generalRule } from './general-rule';
import { nameFromId } from './name-from-id';
import type { BandRule, Limit, Rule } from './rule';

const UPPER = 'limit.';
const LOWER = 'limit_low.';
const BOUNDED = 'bounded.';

/** A bound as a column; `side` says from where it bounds. */
export type LimitLine = Readonly<{ column: string; side: 'upper' | 'lower'; limit: Limit }>;

/**
 * The limits of a rule on a quantity. `quantity` is the column or channel they are drawn beside: a quantity
 * by its name, what is formed for the rule alone in a column called after it.
 */
export type RuleLimits = Readonly<{
  rule: BandRule;
  quantity: string;
  isFormed: boolean;
  lines: readonly LimitLine[];
}>;

/**
 * @returns null for rules about events. One bound alone is `limit.<rule>`, whichever side; of two the
 *   lower one is `limit_low.<rule>`
 */
export function limitsOfRule(rule: Rule): RuleLimits | null {
  const band = generalRule(rule);
  if (band.kind !== 'band') return null;
  const { id, quantity, low, high } = band;
  const isFormed = quantity.kind !== 'named';
  const upper: readonly LimitLine[] =
    high === null ? [] : [{ column: `${UPPER}${id}`, side: 'upper', limit: high }];
  const column = high === null ? `${UPPER}${id}` : `${LOWER}${id}`;
  const lower: readonly LimitLine[] = low === null ? [] : [{ column, side: 'lower', limit: low }];
  return {
    rule: band,
    quantity: quantity.kind === 'named' ? quantity.name : `${BOUNDED}${id}`,
    isFormed,
    lines: [...upper, ...lower],
  };
}

/** The rule whose limit a column holds; null for other columns. */
export function ruleOfLimit(column: string): string | null {
  const prefix = [UPPER, LOWER].find((each) => column.startsWith(each));
  return prefix === undefined ? null : column.slice(prefix.length);
}

/** Words for a column of a limit or of what a rule bounds; null for others. */
export function limitColumnWords(column: string): string | null {
  const rule = ruleOfLimit(column);
  if (rule !== null)
    return `${column.startsWith(LOWER) ? 'Lower limit' : 'Limit'}: ${nameFromId(rule)}`;
  return column.startsWith(BOUNDED) ? `${nameFromId(column.slice(BOUNDED.length))}, bounded` : null;
}
