/** Conditions at contact against the limits of the docking standard, with their uncertainty. */
import { type Figure, halfWidth95 } from '../figure';
import type { Contact } from '../reconstruction/contact-report';
import { contactLimitsOf, contactStanding } from '../rules/contact-limits';
import type { ContactLimit } from '../session/contact-limit-table';
import type { Plan } from '../session/plan';

/** `near` = nearer to a bound than its own uncertainty, so neither inside nor beyond can be said. */
export type Standing = 'inside' | 'below' | 'above' | 'near' | 'not measured' | 'not evaluated';

/** A condition at contact beside its limit. */
export type ConditionStanding = Readonly<{
  limit: ContactLimit;
  figure: Figure | null;
  standing: Standing;
}>;

function standingOf(limit: ContactLimit, figure: Figure | undefined): Standing {
  if (figure?.value == null) return 'not measured';
  const half = halfWidth95(figure) ?? 0;
  const size = limit.atLeast === null ? Math.abs(figure.value) : figure.value;
  const bounds = limit.atLeast === null ? [limit.atMost] : [limit.atLeast, limit.atMost];
  const undecided = bounds.some((bound) => Math.abs(size - bound) < half);
  return undecided ? 'near' : contactStanding(limit, figure.value);
}

/** Every limit that holds for the session with what was measured, in the table's order. */
export function conditionStandings(
  contact: Contact,
  plan: Plan | null,
): readonly ConditionStanding[] {
  return contactLimitsOf(plan).limits.map((limit) => {
    const figure = contact.conditions[limit.condition];
    const standing =
      contact.notEvaluated === undefined ? standingOf(limit, figure) : 'not evaluated';
    return { limit, figure: figure ?? null, standing };
  });
}
