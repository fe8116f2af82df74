/** One line of the as-flown sequence. */
import type { Figure } from '../figure';
import type { SequenceItem } from './reconstruction';

/** Flown minus planned, with the interval of what was flown. */
function differenceOf(flown: Figure | undefined, planned: Figure | null): Figure | null {
  if (flown?.value == null || planned?.value == null) return null;
  const { reason: _, ...rest } = flown;
  return { ...rest, value: flown.value - planned.value, method: 'Flown minus planned.' };
}

export function itemOf(
  parts: Omit<SequenceItem, 'differenceS' | 'plannedS' | 'note'> &
    Partial<Pick<SequenceItem, 'plannedS' | 'note'>> &
    Readonly<{ unknown?: string | null }>,
): SequenceItem {
  const { unknown = null, ...rest } = parts;
  const plannedS = parts.plannedS ?? null;
  return {
    ...rest,
    ...(unknown === null ? {} : { notKnown: unknown }),
    plannedS,
    differenceS: differenceOf(parts.seen[0]?.timeS, plannedS),
    note: parts.note ?? null,
  };
}
