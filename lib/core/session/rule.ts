/** A flight rule as data: what `rules.yaml` says once it has been read. SI and radians. */
import type { RangeProfile } from './plan';

/** Where a rule applies; all conditions given must hold. `null` where not given. */
export type Within = Readonly<{
  rangeM: readonly [lowM: number, highM: number] | null;
  axialM: readonly [lowM: number, highM: number] | null;
  step: string | null;
}>;

/**
 * A bound. `constant` is in the quantity's SI unit; `by-range` in m/s over range in metres;
 * `cone` is max(floorM, axial distance x tan(halfAngleRad)) on the lateral offset.
 */
export type Limit =
  | Readonly<{ kind: 'constant'; value: number }>
  | Readonly<{ kind: 'by-range'; points: RangeProfile }>
  | Readonly<{ kind: 'cone'; halfAngleRad: number; floorM: number }>;

type RuleBase = Readonly<{
  id: string;
  statement: string;
  within: Within | null;
  persistsS: number;
}>;

/** Stays at or under (`at-most`) or at or over (`at-least`) a limit. `unit` is the one margins are shown in. */
export type QuantityRule = RuleBase &
  Readonly<{
    kind: 'quantity';
    quantity: string;
    sense: 'at-most' | 'at-least';
    limit: Limit;
    unit: string;
  }>;

export type OrderTarget =
  | Readonly<{ kind: 'event'; event: string }>
  | Readonly<{ kind: 'step-edge'; step: string; edge: 'start' | 'end' }>;

/** The first occurrence of `firstEvent` comes before the first occurrence of `then`. */
export type OrderRule = RuleBase &
  Readonly<{ kind: 'order'; firstEvent: string; then: OrderTarget }>;

/** The event does not occur (inside `within`, where given). */
export type NeverRule = RuleBase & Readonly<{ kind: 'never'; event: string }>;

/** The step lasts between the bounds; `null` where a bound is not given. */
export type DurationRule = RuleBase &
  Readonly<{ kind: 'duration'; step: string; atMostS: number | null; atLeastS: number | null }>;

export type Rule = QuantityRule | OrderRule | NeverRule | DurationRule;
