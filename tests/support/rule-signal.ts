/** Quantities and contexts made by hand for tests of rules. */
import type { EstimatedQuantity, RuleContext } from '@/lib/core/rules/rule-context';

type Signal = Readonly<{ tS: Float64Array; value: Float64Array }>;

/** A quantity known exactly, unless a standard deviation is given; one stretch. */
export function exactly(
  { tS, value }: Signal,
  unit = 'm',
  more: Partial<EstimatedQuantity> = {},
): EstimatedQuantity {
  return {
    tS,
    value,
    sd: new Float64Array(tS.length),
    noise: 'estimated',
    unit,
    stretches: [{ from: 0, to: tS.length }],
    spanS: 0,
    systematic: null,
    channels: ['signal'],
    method: 'By hand.',
    ...more,
  };
}

/** A context of quantities, states and events alone: no motion, no steps unless given. */
export function contextOf(parts: Partial<RuleContext>): RuleContext {
  return {
    motion: null,
    evaluated: null,
    steps: new Map(),
    events: [],
    logEntryCount: 0,
    quantity: () => null,
    ...parts,
  };
}
