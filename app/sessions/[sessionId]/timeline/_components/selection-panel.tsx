'use client';

import type { Dispatch } from 'react';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import { isStretchRows } from '@/lib/view/checked-answers';
import { spokenDuration } from '@/lib/view/format-time';
import type { TimelineAction } from '@/lib/view/timeline-state';
import { SelectionButtons } from './selection-buttons';
import styles from './selection-panel.module.css';
import { StretchTables } from './stretch-tables';
import { TimeField } from './time-field';
import { useFetched } from './use-fetched';

type SelectionPanelProps = Readonly<{
  sessionId: string;
  session: TimeWindow;
  window: TimeWindow;
  selection: TimeWindow | null;
  keys: readonly string[];
  dispatch: Dispatch<TimelineAction>;
}>;

/** The selection by exact times, what can be done with it, and its values as a table. */
export function SelectionPanel(props: SelectionPanelProps) {
  const { sessionId, session, window, selection, keys, dispatch } = props;
  const query = (stretch: TimeWindow): URLSearchParams => {
    const asked = new URLSearchParams({ from: `${stretch.fromS}`, to: `${stretch.toS}` });
    for (const key of keys) asked.append('c', key);
    return asked;
  };
  const base = `/sessions/${encodeURIComponent(sessionId)}/timeline/rows`;
  const tables = useFetched(
    selection === null || keys.length === 0 ? null : `${base}?${query(selection)}`,
    isStretchRows,
  );
  return (
    <section className={styles.panel} aria-labelledby="selection-title">
      <div className={styles.headLine}>
        <h2 id="selection-title">Selection</h2>
        <TimeField
          label="from"
          valueS={selection?.fromS ?? null}
          onChange={(tS) => dispatch({ kind: 'set-edge', edge: 'start', tS })}
        />
        <TimeField
          label="to"
          valueS={selection?.toS ?? null}
          onChange={(tS) => dispatch({ kind: 'set-edge', edge: 'end', tS })}
        />
        <span className={styles.length}>
          {selection === null
            ? 'nothing selected'
            : spokenDuration(selection.toS - selection.fromS, 1)}
        </span>
        <SelectionButtons
          {...{ session, window, selection, dispatch }}
          rowsHref={selection === null ? null : `${base}?${query(selection)}&format=csv`}
        />
      </div>
      {selection === null && (
        <p className="soft">
          Drag over the strips, or set the start with [ and the end with ] at the cursor, or type
          two session times. The values of the stretch then stand here as a table.
        </p>
      )}
      {tables.state === 'loading' && <p className="soft">Reading the rows…</p>}
      {tables.state === 'failed' && (
        <p role="alert">
          The rows could not be read. {tables.message}{' '}
          <button type="button" className="button" onClick={tables.retry}>
            Try again
          </button>
        </p>
      )}
      {tables.state === 'ready' && (
        <StretchTables table={tables.value.table} cut={tables.value.cut ? 'cut' : 'whole'} />
      )}
    </section>
  );
}
