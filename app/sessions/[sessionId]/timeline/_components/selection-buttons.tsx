'use client';

import type { Dispatch } from 'react';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import type { TimelineAction } from '@/lib/view/timeline-state';
import styles from './selection-panel.module.css';

type SelectionButtonsProps = Readonly<{
  session: TimeWindow;
  window: TimeWindow;
  selection: TimeWindow | null;
  /** Where the rows of the selection are to be had; null without one. */
  rowsHref: string | null;
  /** Where a question to the crew about the selection is asked; null without one. */
  askHref: string | null;
  dispatch: Dispatch<TimelineAction>;
}>;

/** Makes a selection where there is none, else what can be done with it. */
export function SelectionButtons(props: SelectionButtonsProps) {
  const { session, window, selection, rowsHref, askHref, dispatch } = props;
  if (selection === null) {
    return (
      <div className={styles.buttons}>
        <button
          type="button"
          className="button"
          onClick={() => dispatch({ kind: 'select', selection: window })}
        >
          Select what is shown
        </button>
        <button
          type="button"
          className="button"
          onClick={() => dispatch({ kind: 'select', selection: session })}
        >
          Select the whole session
        </button>
      </div>
    );
  }
  return (
    <div className={styles.buttons}>
      <button
        type="button"
        className="button"
        onClick={() => dispatch({ kind: 'frame', stretch: selection })}
      >
        Zoom to it
      </button>
      <button
        type="button"
        className="button"
        onClick={() => dispatch({ kind: 'select', selection: null })}
      >
        Let it go
      </button>
      {askHref !== null && (
        <a className="button" href={askHref}>
          Ask the crew
        </a>
      )}
      {rowsHref !== null && (
        <a className="button" href={rowsHref} download>
          Rows as CSV
        </a>
      )}
    </div>
  );
}
