/** What a finding may be, for the lists of a form. */
import { FINDING_KINDS, FINDING_SEVERITIES } from '../core/findings/finding';

export const FINDING_CHOICES = { kinds: FINDING_KINDS, severities: FINDING_SEVERITIES } as const;
