/** What the closing rate is held against over range: the plan's profiles and the bounds of the rules. */
import { profileAt } from '../math/search';
import { generalRule } from '../session/general-rule';
import type { MoveStep, Plan } from '../session/plan';
import type { Limit, Rule } from '../session/rule';
import { plannedStartM } from './planned-way';

/** A profile or limit is drawn through this many points of its stretch of range. */
const POINTS = 120;

/** A stretch of range from its far end inwards, m. */
type RangeSpan = Readonly<{ fromM: number; toM: number }>;

/** A planned move over the part of its way that was flown. */
export type PlannedSpan = RangeSpan & Readonly<{ step: MoveStep }>;

/** One bound of a rule on the closing rate; `side` is the one from which it bounds. */
export type RateRule = RangeSpan &
  Readonly<{ rule: string; side: 'upper' | 'lower'; limit: Limit }>;

const RATES: readonly string[] = ['closing_rate', 'axial_closing_rate'];

/**
 * Moves of the plan with where they lead along, inwards or outwards, none beyond what was flown.
 *
 * @param farM largest range drawn
 */
export function plannedSpans(plan: Plan | null, farM: number): readonly PlannedSpan[] {
  return (plan?.steps ?? []).flatMap((step, index): PlannedSpan[] => {
    if (step.kind !== 'move' || plan === null) return [];
    const startM = plannedStartM(plan, index);
    const fromM = Math.min(Math.max(startM, step.toM), farM);
    const toM = Math.min(startM, step.toM);
    return fromM > toM ? [{ step, fromM, toM }] : [];
  });
}

/** Ranges evenly apart from one end of a stretch to the other, m. */
export function rangesBetween({ fromM, toM }: RangeSpan): readonly number[] {
  return Array.from({ length: POINTS + 1 }, (_, i) => fromM + ((toM - fromM) * i) / POINTS);
}

/** Bounds of the closing rate, over the ranges where they hold; those of the axial rate are ones too. */
export function rateRules(
  { ruleSet, plan }: Readonly<{ ruleSet: readonly Rule[]; plan: Plan | null }>,
  farM: number,
): readonly RateRule[] {
  return ruleSet.flatMap((each): RateRule[] => {
    const general = generalRule(each);
    if (general.kind !== 'band' || general.quantity.kind !== 'named') return [];
    if (!RATES.includes(general.quantity.name)) return [];
    const { when, low, high } = general;
    const span = when?.rangeM ?? when?.axialM ?? stepSpan(plan, when?.step ?? null);
    const [nearM, outM] = span ?? [0, farM];
    if (nearM >= farM) return [];
    const along = { rule: each.id, fromM: Math.min(outM, farM), toM: nearM };
    const bound = (side: RateRule['side'], limit: Limit | null): readonly RateRule[] =>
      limit === null || limit.kind === 'cone' ? [] : [{ ...along, side, limit }];
    return [...bound('upper', high), ...bound('lower', low)];
  });
}

function stepSpan(plan: Plan | null, id: string | null): readonly [number, number] | null {
  const index = plan?.steps.findIndex((step) => step.id === id) ?? -1;
  const step = plan?.steps[index];
  if (plan === null || step === undefined) return null;
  if (step.kind === 'hold') return [step.holdM - step.toleranceM, step.holdM + step.toleranceM];
  const startM = plannedStartM(plan, index);
  return [Math.min(step.toM, startM), Math.max(step.toM, startM)];
}

/** Value of a bound at a range, m/s; NaN for a limit that is not on a rate. */
export function rateLimitAt(limit: Limit, rangeM: number): number {
  if (limit.kind === 'constant') return limit.value;
  return limit.kind === 'by-range' ? profileAt(limit.points, rangeM) : Number.NaN;
}

/**
 * Ends of an axis of rate: all that was flown and planned, limits up to half as much again.
 *
 * @param flown closing rates, m/s; NaN = none
 * @returns the lower and upper end, m/s
 */
export function rateEnds(
  flown: readonly number[],
  spans: readonly PlannedSpan[],
  rules: readonly RateRule[],
): Readonly<{ low: number; high: number }> {
  const planned = spans.flatMap((span) =>
    rangesBetween(span).flatMap((m) => {
      const mps = profileAt(span.step.closingRateMps, m);
      return [mps - span.step.toleranceMps, mps + span.step.toleranceMps];
    }),
  );
  const limits = rules.flatMap((each) =>
    rangesBetween(each).map((m) => rateLimitAt(each.limit, m)),
  );
  const base = [...flown, ...planned, 0].filter(Number.isFinite);
  const low = Math.min(...base);
  const high = Math.max(...base);
  const room = (high - low) * 0.5;
  const near = limits.filter((mps) => mps <= high + room && mps >= low - room);
  const pad = (Math.max(high, ...near) - Math.min(low, ...near)) * 0.06;
  return { low: Math.min(low, ...near) - (low < 0 ? pad : 0), high: Math.max(high, ...near) + pad };
}
