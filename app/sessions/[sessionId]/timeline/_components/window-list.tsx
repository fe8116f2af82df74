'use client';

import type { Dispatch } from 'react';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import type { TimelineView } from '@/lib/view/timeline';
import { windowEntries } from '@/lib/view/timeline-list';
import type { TimelineAction } from '@/lib/view/timeline-state';
import { useClock } from './use-axis';
import type { TimelineActs } from './use-timeline-acts';
import styles from './window-list.module.css';

type WindowListProps = Readonly<{
  view: TimelineView;
  window: TimeWindow;
  acts: TimelineActs;
  dispatch: Dispatch<TimelineAction>;
}>;

/** Everything the lanes draw in this window, as text in time order. */
export function WindowList({ view, window, acts, dispatch }: WindowListProps) {
  const clock = useClock();
  const { entries, more } = windowEntries(view, window);
  return (
    <details className={styles.list} open>
      <summary>
        <h2>In this window</h2>
        <span className="soft">
          {entries.length + more === 0
            ? 'nothing'
            : `${entries.length + more} entries in time order`}
        </span>
      </summary>
      {entries.length === 0 && (
        <p className="soft">
          No phase, log entry, stretch beyond a limit, data fault or finding lies here.
        </p>
      )}
      <ol>
        {entries.map((entry) => (
          <li key={entry.id} data-entry={entry.id}>
            <button
              type="button"
              className={styles.time}
              onClick={() => {
                acts.goTo(entry.fromS);
                if (entry.toS > entry.fromS)
                  dispatch({ kind: 'select', selection: { fromS: entry.fromS, toS: entry.toS } });
              }}
            >
              {clock.text(entry.fromS)}
            </button>
            <span className={styles.kind}>{entry.kind}</span>
            <span>{entry.text}</span>
            {entry.sheet !== null && (
              <button
                type="button"
                className={styles.open}
                onClick={() => {
                  if (entry.sheet !== null) dispatch({ kind: 'open', sheet: entry.sheet });
                }}
              >
                open
              </button>
            )}
          </li>
        ))}
      </ol>
      {more > 0 && <p className="soft">{more} more: zoom in to list them.</p>}
    </details>
  );
}
