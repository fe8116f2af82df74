/** What was known at an instant: each rule's value, limit, room, trend and the age of what it rests on. */
import type { Figure } from '../figure';
import type { SourceUse } from './known-by';
import type { Verdict } from './reconstruction';

/**
 * `inside`, `beyond`, `too close to call`: a quantity against its limit. `open`, `held`, `broken`: a
 * rule about events. `not in force`: it did not apply then. `stale`: the last value is too old to
 * speak for the instant. `not known`: nothing had been received that tells it.
 */
export type PollStanding =
  | 'inside'
  | 'beyond'
  | 'too close to call'
  | 'open'
  | 'held'
  | 'broken'
  | 'not in force'
  | 'stale'
  | 'not known';

export type RuleAtPoll = Readonly<{
  id: string;
  standing: PollStanding;
  value: Figure | null;
  limit: Figure | null;
  /** Room to the limit: below 0 is beyond. */
  margin: Figure | null;
  /** Change of the room per second: below 0 it shrinks. */
  trendPerS: Figure | null;
  /** From the oldest sample that the value needs to the instant. */
  ageS: Figure | null;
  /** The unit the rule was written in; seconds for events; `null` where there is no number. */
  unit: string | null;
  /** The verdict over all that was known by then; `null` where it was still open. */
  soFar: Verdict | null;
  words: string;
}>;

export type SourceAtPoll = SourceUse & Readonly<{ ageS: Figure | null }>;

export type PollState = Readonly<{
  atS: number;
  /** `null` where no motion could be estimated by then. */
  rangeM: Figure | null;
  closingMps: Figure | null;
  motionAgeS: Figure | null;
  /** The planned step under way; `null` for an unplanned run, or where it is not known. */
  step: string | null;
  motion: string | null;
  /** First touch, s, where what had been received shows or names it; `null` before it. */
  touchedS: number | null;
  rules: readonly RuleAtPoll[];
  sources: readonly SourceAtPoll[];
  /** What could not be known, in sentences. */
  unknown: readonly string[];
}>;

/** Worst first; what could not be known stands before what was well. */
const POLL_STANDING_ORDER: readonly PollStanding[] = [
  'broken',
  'beyond',
  'too close to call',
  'not known',
  'stale',
  'inside',
  'held',
  'open',
  'not in force',
];

/** Rules in the order in which people ask about them; those that stand alike stay as they are. */
export function worstFirst(rules: readonly RuleAtPoll[]): readonly RuleAtPoll[] {
  const rank = ({ standing }: RuleAtPoll): number => POLL_STANDING_ORDER.indexOf(standing);
  return [...rules].sort((a, b) => rank(a) - rank(b));
}

/** Which way the room goes, where its trend is more than noise; `null` where that is not known. */
export function roomTrend({ trendPerS }: RuleAtPoll): 'shrinks' | 'grows' | 'steady' | null {
  const value = trendPerS?.value ?? null;
  const half = trendPerS?.uncertainty?.random ?? null;
  if (value === null || half === null) return null;
  if (Math.abs(value) < half) return 'steady';
  return value < 0 ? 'shrinks' : 'grows';
}
