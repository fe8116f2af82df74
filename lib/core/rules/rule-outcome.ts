/** What the evaluation of a rule gives, in plain numbers, SI and radians. */

export type RuleVerdict = 'met' | 'broken' | 'undecided' | 'not applicable' | 'not evaluated';

export type RuleReason =
  | 'no-such-channel'
  | 'no-such-event'
  | 'step-not-flown'
  | 'no-event-log'
  | 'data-missing';

/** A margin with the 95 % half-width of its random and of its stated systematic part. */
export type Margin = Readonly<{
  value: number;
  half: number | null;
  systematic: number | null;
  /** Stretch the margin was taken over, s; both null where there is none. */
  fromS: number | null;
  toS: number | null;
  method: string;
}>;

export type ExceedanceNumbers = Readonly<{
  startS: number;
  startHalfS: number;
  endS: number;
  endHalfS: number;
  worstS: number;
  worstHalfS: number;
  worst: number;
  /** `null` where the scatter does not tell it. */
  worstHalf: number | null;
  systematic: number | null;
  limit: number;
  limitHalf: number;
}>;

/** Session time, s; both ends alike for one log entry. */
export type BrokenStretch = Readonly<{ fromS: number; toS: number }>;

export type RuleOutcome = Readonly<{
  verdict: RuleVerdict;
  margin: Margin | null;
  instantMargin: Margin | null;
  unit: string | null;
  reason: RuleReason | null;
  explanation: string;
  atS: number | null;
  exceedances: readonly ExceedanceNumbers[];
  /** Where a broken rule about events was broken, in time order; empty of any other. */
  brokenOver: readonly BrokenStretch[];
  /** Channels and logs that decided it, as written. */
  channels: readonly string[];
}>;

/** An outcome without any number. */
export function bareOutcome(
  verdict: RuleVerdict,
  reason: RuleReason | null,
  explanation: string,
): RuleOutcome {
  return {
    verdict,
    reason,
    explanation,
    margin: null,
    instantMargin: null,
    unit: null,
    atS: null,
    exceedances: [],
    brokenOver: [],
    channels: [],
  };
}
