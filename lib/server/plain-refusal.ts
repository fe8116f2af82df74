/** What does not fit an input, in words for who typed it; a schema's own words come before these. */
import type { z } from 'zod';

type RawIssue = z.core.$ZodRawIssue;

function bound(value: unknown): string {
  return typeof value === 'number' || typeof value === 'bigint' ? String(value) : 'so many';
}

/** @returns one sentence; nothing where the default of the checker says it well enough */
export function plainRefusal(issue: RawIssue): string | undefined {
  if (issue.code === 'too_big')
    return issue.origin === 'string'
      ? `At most ${bound(issue.maximum)} characters are taken.`
      : `At most ${bound(issue.maximum)} is taken.`;
  if (issue.code === 'too_small') {
    if (issue.origin === 'string')
      return issue.minimum === 1
        ? 'Something is needed here.'
        : `At least ${bound(issue.minimum)} characters are needed.`;
    return issue.inclusive === true
      ? `At least ${bound(issue.minimum)} is needed.`
      : `More than ${bound(issue.minimum)} is needed.`;
  }
  if (issue.code === 'invalid_type')
    return 'This is missing, or not of the kind that is asked for.';
  if (issue.code === 'invalid_value') return 'This is none of the choices.';
  return undefined;
}
