/** What people decided about a rule: words beside its verdict, which they never change. */
import type { PeopleFileData } from './people-schema';

/** An entry of a log by its place. */
export type LogPlace = Readonly<{ source: string; line: number }>;

/**
 * One decision. `waived`: the rule was set aside for this flight; `amended`: other words were to hold.
 * `givenBy` decided it, `by` wrote it down here; `atS` is the session time of the decision.
 */
export type RuleDisposition = Readonly<{
  rule: string;
  disposition: 'waived' | 'amended';
  givenBy: string | null;
  atS: number | null;
  /** The entry in which it was given. */
  entry: LogPlace | null;
  /** The words that were to hold instead; `null` where waived. */
  amendedTo: string | null;
  by: string | null;
  reason: string | null;
}>;

type DispositionData = NonNullable<PeopleFileData['rule_dispositions']>[number];

/** A decision as an entry of people.yaml. */
export function dispositionData(one: RuleDisposition): DispositionData {
  const { rule, disposition, givenBy, atS, entry, amendedTo, by, reason } = one;
  return {
    rule,
    disposition,
    ...(givenBy === null ? {} : { given_by: givenBy }),
    ...(atS === null ? {} : { at_s: atS }),
    ...(entry === null ? {} : { entry }),
    ...(amendedTo === null ? {} : { amended_to: amendedTo }),
    ...(by === null ? {} : { by }),
    ...(reason === null ? {} : { reason }),
  };
}
