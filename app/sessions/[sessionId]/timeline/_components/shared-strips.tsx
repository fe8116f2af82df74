'use client';

import type { Dispatch } from 'react';
import { canShare, partsOfPlace } from '@/lib/view/strip-places';
import type { TimelineAction } from '@/lib/view/timeline-state';
import type { Strip, StripCatalogue } from '@/lib/view/timeline-strips';
import styles from './strip-chooser.module.css';

type SharedStripsProps = Readonly<{
  strip: Strip;
  on: readonly Strip[];
  catalogue: StripCatalogue;
  known: ReadonlySet<string>;
  dispatch: Dispatch<TimelineAction>;
}>;

/** Strips of one unit share a place, or part again. */
export function SharedStrips({ strip, on, catalogue, known, dispatch }: SharedStripsProps) {
  const parts = partsOfPlace(strip.id, known);
  const partners = on.filter((each) => each.id !== strip.id && canShare(each, strip));
  const labelOf = (id: string): string =>
    catalogue.strips.find((each) => each.id === id)?.label ?? id;
  if (parts.length < 2 && partners.length === 0) return null;
  return (
    <div className={styles.shared}>
      {parts.length > 1 &&
        parts.map((part) => (
          <button
            key={part}
            type="button"
            onClick={() => dispatch({ kind: 'part-strip', id: strip.id, part, known })}
          >
            {labelOf(part)} on its own
          </button>
        ))}
      {partners.length > 0 && (
        <select
          aria-label={`${strip.label} shares the strip of`}
          value=""
          onChange={(event) =>
            dispatch({ kind: 'share-strip', id: strip.id, withId: event.target.value, known })
          }
        >
          <option value="">share the strip of…</option>
          {partners.map((each) => (
            <option key={each.id} value={each.id}>
              {each.label}
            </option>
          ))}
        </select>
      )}
    </div>
  );
}
