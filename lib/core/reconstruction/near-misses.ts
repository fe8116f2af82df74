/** Rules that held with little to spare, ranked in units of their own uncertainty. */
import { type Figure, halfWidth95 } from '../figure';
import type { Reconstruction, RuleResult } from './reconstruction';

/**
 * `close`: the margin is this many of its own 95 % half-widths. `brief`: the limit was passed, for
 * less time than the rule counts; the ratio is of the instant margin, and below 0.
 */
export type NearMiss = Readonly<{
  rule: string;
  kind: 'close' | 'brief';
  margin: Figure;
  /** `null` where the uncertainty is not known, so that it cannot be ranked. */
  halfWidths: Figure | null;
  /** The unit the rule was written in. */
  unit: string | null;
}>;

function inHalfWidths(margin: Figure): Figure | null {
  const half = halfWidth95(margin);
  if (margin.value === null || half === null || half === 0) return null;
  const { reason: _, ...rest } = margin;
  return {
    ...rest,
    value: margin.value / half,
    unit: '1',
    uncertainty: null,
    method: `Margin over its own 95 % half-width. ${margin.method}`,
  };
}

function nearMiss(result: RuleResult): NearMiss | null {
  const { verdict, margin, instantMargin, id, unit } = result;
  if (margin?.value == null || (verdict !== 'met' && verdict !== 'undecided')) return null;
  if (instantMargin?.value != null && instantMargin.value < 0 && verdict === 'met') {
    const halfWidths = inHalfWidths(instantMargin);
    return { rule: id, kind: 'brief', margin: instantMargin, halfWidths, unit };
  }
  return { rule: id, kind: 'close', margin, halfWidths: inHalfWidths(margin), unit };
}

/**
 * Rules that were met or are undecided, nearest first.
 *
 * A margin in metres and one in seconds cannot be compared; each in its own half-widths can. What was
 * passed for less than its persistence stands first; what has no known uncertainty stands last.
 */
export function nearMisses({ rules }: Pick<Reconstruction, 'rules'>): readonly NearMiss[] {
  const rank = ({ kind, halfWidths }: NearMiss): number => {
    if (halfWidths?.value == null) return Number.POSITIVE_INFINITY;
    return kind === 'brief' ? halfWidths.value - 1e9 : Math.abs(halfWidths.value);
  };
  return rules
    .flatMap((result) => nearMiss(result) ?? [])
    .map((one, index) => ({ one, index }))
    .sort((a, b) => {
      const [left, right] = [rank(a.one), rank(b.one)];
      return left === right ? a.index - b.index : left - right;
    })
    .map(({ one }) => one);
}
