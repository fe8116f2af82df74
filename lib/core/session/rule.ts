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

/** `within`, and the states of a channel in which the rule applies; `null` where not given. */
export type When = Within &
  Readonly<{ mode: Readonly<{ channel: string; is: readonly number[] }> | null }>;

/** What is bounded: a quantity by name, its change per second, or the root of a sum of squares. */
export type QuantityRef =
  | Readonly<{ kind: 'named'; name: string }>
  | Readonly<{ kind: 'rate'; of: string }>
  | Readonly<{ kind: 'vector-sum'; of: readonly string[] }>;

type GeneralBase = Readonly<{ id: string; statement: string; when: When | null }>;

/**
 * A quantity stays between two bounds, each constant or by range; `null` = no such bound. `unit` is
 * the one margins are shown in.
 */
export type BandRule = GeneralBase &
  Readonly<{
    kind: 'band';
    quantity: QuantityRef;
    low: Limit | null;
    high: Limit | null;
    persistsS: number;
    unit: string;
  }>;

/**
 * `order`: the time from the first moment to the other lies between the bounds, s (before it, less than
 * 0). `count`: how often an event occurs lies between the bounds. `null` = no such bound.
 */
export type EventsAsk =
  | Readonly<{
      form: 'order';
      first: OrderTarget;
      then: OrderTarget;
      atLeastS: number | null;
      atMostS: number | null;
    }>
  | Readonly<{ form: 'count'; event: string; atLeast: number | null; atMost: number | null }>;

export type EventsRule = GeneralBase & Readonly<{ kind: 'events'; ask: EventsAsk }>;

/**
 * A rule as the file has it: one of the plain forms, or one of the general shapes that all of them map
 * onto (`generalRule`).
 */
export type Rule = QuantityRule | OrderRule | NeverRule | DurationRule | BandRule | EventsRule;
