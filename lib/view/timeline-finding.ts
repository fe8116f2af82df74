/** What a finding may be, for the lists of a form. */
import { FINDING_KINDS, FINDING_SEVERITIES, FINDING_STATES } from '../core/findings/finding';

export const FINDING_CHOICES = {
  kinds: FINDING_KINDS,
  severities: FINDING_SEVERITIES,
  states: FINDING_STATES,
} as const;
