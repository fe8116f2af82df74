'use client';

import type { Dispatch } from 'react';
import { plural } from '@/lib/view/format-number';
import type { TimelineView } from '@/lib/view/timeline';
import type { SearchHit } from '@/lib/view/timeline-search';
import type { TimelineAction, TimelineState } from '@/lib/view/timeline-state';
import { MOST_SOUGHT_CHARACTERS } from '@/lib/view/timeline-url';
import forms from './forms.module.css';
import styles from './search-sheet.module.css';
import { SeekForm } from './seek-form';
import { useClock } from './use-axis';
import type { TimelineActs } from './use-timeline-acts';

type SearchSheetProps = Readonly<{
  view: TimelineView;
  state: TimelineState;
  hits: readonly SearchHit[];
  acts: TimelineActs;
  dispatch: Dispatch<TimelineAction>;
}>;

const MOST_LISTED = 100;

/** Words in logs, events and findings, with the hits on the axis; stretches beyond a value. */
export function SearchSheet({ view, state, hits, acts, dispatch }: SearchSheetProps) {
  const clock = useClock();
  const go = (hit: SearchHit): void => {
    acts.goTo(hit.fromS);
    if (hit.toS > hit.fromS)
      dispatch({ kind: 'select', selection: { fromS: hit.fromS, toS: hit.toS } });
  };
  return (
    <div className={styles.search}>
      <div className={forms.field}>
        <label htmlFor="timeline-sought">Words in logs, events and findings</label>
        <input
          id="timeline-sought"
          data-first
          type="search"
          value={state.sought}
          maxLength={MOST_SOUGHT_CHARACTERS}
          onChange={(event) => dispatch({ kind: 'seek', sought: event.target.value })}
          onKeyDown={(event) => {
            if (event.key !== 'Enter') return;
            event.preventDefault();
            acts.run({ kind: 'go-hit', direction: event.shiftKey ? -1 : 1 });
          }}
        />
      </div>
      <div className={styles.line}>
        <span role="status">{countText(state.sought, hits.length)}</span>
        {hits.length > 0 && (
          <>
            <button
              type="button"
              className="button"
              onClick={() => acts.run({ kind: 'go-hit', direction: -1 })}
            >
              Previous
            </button>
            <button
              type="button"
              className="button"
              onClick={() => acts.run({ kind: 'go-hit', direction: 1 })}
            >
              Next
            </button>
          </>
        )}
      </div>
      <ol className={styles.hits} aria-label="What was found">
        {hits.slice(0, MOST_LISTED).map((hit) => (
          <li key={hit.id}>
            <button type="button" onClick={() => go(hit)}>
              <span className="num">{clock.text(hit.fromS)}</span> {hit.kind}
            </button>
            <span>{hit.text}</span>
          </li>
        ))}
      </ol>
      {hits.length > MOST_LISTED && (
        <p className="soft">
          {plural(hits.length - MOST_LISTED, 'more hit')}: all are on the axis.
        </p>
      )}
      <SeekForm view={view} state={state} acts={acts} dispatch={dispatch} />
    </div>
  );
}

function countText(sought: string, count: number): string {
  if (sought.trim() === '') return 'Every word has to be there; Enter goes to the next.';
  if (count === 0) return 'Nothing holds all of these words.';
  return plural(count, 'hit');
}
