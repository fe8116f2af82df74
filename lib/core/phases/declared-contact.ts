/** Contact as a person declared it, in place of what was computed. */
import { NORMAL_95 } from '../math/statistics';
import type { DeclaredContact, EditOutcome } from '../session/phase-edit';
import { sessionTimeText } from '../time/session-time-text';
import { type ContactTime, LONGEST_EXTRAPOLATION_S } from './contact-time';

/** A declaration by its place in the list of all corrections. */
export type PlacedContact = Readonly<{ place: number; edit: DeclaredContact }>;

export type ContactResult = Readonly<{
  contact: ContactTime | null;
  /** Place of the declaration that gives it; null where it was computed. */
  setBy: number | null;
  outcomes: ReadonlyMap<number, EditOutcome>;
}>;

function outside(atS: number, span: readonly [number, number] | null): string | null {
  if (span === null) return 'there is no telemetry that it could lie in';
  const [fromS, toS] = span;
  if (atS >= fromS && atS <= toS + LONGEST_EXTRAPOLATION_S) return null;
  const ends = `${sessionTimeText(fromS, 1)} to ${sessionTimeText(toS, 1)}`;
  return `${sessionTimeText(atS, 1)} lies outside the telemetry, which lasts from ${ends}`;
}

/**
 * The instant of contact with people's declarations: the last one that fits counts.
 *
 * @param computed contact as the data give it; `null` for none
 * @param declared in the order in which they were made
 * @param span first and last row of the telemetry, s; `null` without any
 * @returns the computed contact itself where nothing was declared
 */
export function contactWith(
  computed: ContactTime | null,
  declared: readonly PlacedContact[],
  span: readonly [number, number] | null,
): ContactResult {
  const outcomes = new Map<number, EditOutcome>();
  let setBy: PlacedContact | null = null;
  for (const one of declared) {
    const fault = outside(one.edit.atS, span);
    outcomes.set(one.place, { state: fault === null ? 'applied' : 'not applied', fault });
    if (fault !== null) continue;
    if (setBy !== null) {
      const replaced = 'a later correction took its place';
      outcomes.set(setBy.place, { state: 'replaced', fault: replaced });
    }
    setBy = one;
  }
  if (setBy === null) return { contact: computed, setBy: null, outcomes };
  const { atS, sdS } = setBy.edit;
  const contact = { timeS: atS, halfS: NORMAL_95 * sdS, basis: 'declared' } as const;
  return { contact, setBy: setBy.place, outcomes };
}
