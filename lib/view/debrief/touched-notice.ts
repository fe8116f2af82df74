/** Said beside a debrief, published or in draft, once its session was computed again. */
import type { TouchedNumber } from '../../core/debrief/touched-numbers';
import { stampText } from '../format-date';
import { plural } from '../format-number';

export type TouchedNotice = Readonly<{ text: string; href: string }>;

type Since = Readonly<{
  sessionId: string;
  computedAtIso: string;
  numbers: readonly TouchedNumber[];
}>;

/** @returns null where every number still reads as it was published */
export function publishedNotice(since: Since | null): TouchedNotice | null {
  if (since === null) return null;
  const count = since.numbers.filter(({ published, now }) => published !== now).length;
  if (count === 0) return null;
  const verb = count === 1 ? 'reads' : 'read';
  return {
    text: `The session was computed again on ${stampText(since.computedAtIso)}: ${plural(count, 'number')} of this revision ${verb} otherwise now. What is published stays as it is.`,
    href: changesHref(since.sessionId),
  };
}

/** @returns null where the draft was saved after the newest computation */
export function draftNotice(
  draft: Readonly<{ updatedAtIso: string }> | null,
  computedAtIso: string | null,
  sessionId: string,
): TouchedNotice | null {
  // Both are written alike, in UTC: their order as text is their order in time.
  if (draft === null || computedAtIso === null || computedAtIso <= draft.updatedAtIso) return null;
  return {
    text: `The session was computed again on ${stampText(computedAtIso)}, after this draft was last saved. Its live values read as they are now; words around them, and numbers typed by hand, may no longer fit.`,
    href: changesHref(sessionId),
  };
}

function changesHref(sessionId: string): string {
  return `/sessions/${encodeURIComponent(sessionId)}/sources/changes`;
}
