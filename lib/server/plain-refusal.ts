/** What does not fit an input, in words for who typed it; a schema's own words come before these. */
import type { z } from 'zod';

type RawIssue = z.core.$ZodRawIssue;

type Bound = Readonly<{
  origin: string;
  bound: number | bigint;
  isInclusive: boolean;
}>;

/** What is counted in an input of such a kind; empty for a number, which is held against the bound itself. */
function counted(origin: string, bound: number | bigint): string {
  const isOne = Number(bound) === 1;
  if (origin === 'string') return isOne ? ' character' : ' characters';
  if (origin === 'array' || origin === 'set') return isOne ? ' entry' : ' entries';
  return '';
}

function tooBig({ origin, bound, isInclusive }: Bound): string {
  const what = counted(origin, bound);
  const verb = what === '' || Number(bound) === 1 ? 'is' : 'are';
  return `${isInclusive ? 'At most' : 'Less than'} ${bound}${what} ${verb} taken.`;
}

function tooSmall({ origin, bound, isInclusive }: Bound): string {
  const what = counted(origin, bound);
  if (what !== '' && isInclusive && Number(bound) === 1) return 'Something is needed here.';
  return `${isInclusive ? 'At least' : 'More than'} ${bound}${what} ${what === '' ? 'is' : 'are'} needed.`;
}

/** @returns one sentence; nothing where the default of the checker says it well enough */
export function plainRefusal(issue: RawIssue): string | undefined {
  if (issue.code === 'too_big')
    return tooBig({
      origin: issue.origin,
      bound: issue.maximum,
      isInclusive: issue.inclusive !== false,
    });
  if (issue.code === 'too_small')
    return tooSmall({
      origin: issue.origin,
      bound: issue.minimum,
      isInclusive: issue.inclusive !== false,
    });
  if (issue.code === 'invalid_type')
    return 'This is missing, or not of the kind that is asked for.';
  if (issue.code === 'invalid_value') return 'This is none of the choices.';
  return undefined;
}
