'use client';

import type { Dispatch } from 'react';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import { isStretchRows } from '@/lib/view/checked-answers';
import { spokenDuration } from '@/lib/view/format-time';
import { nearContactNote } from '@/lib/view/strip-words';
import type { TimelineAction } from '@/lib/view/timeline-state';
import type { EntryPlace } from '@/lib/view/timeline-time-entry';
import { DifferenceTable } from './difference-table';
import { SelectionButtons } from './selection-buttons';
import styles from './selection-panel.module.css';
import { StretchFields } from './stretch-fields';
import { StretchTables } from './stretch-tables';
import { useFetched } from './use-fetched';

type SelectionPanelProps = Readonly<{
  sessionId: string;
  place: EntryPlace;
  contactS: number | null;
  window: TimeWindow;
  selection: TimeWindow | null;
  keys: readonly string[];
  dispatch: Dispatch<TimelineAction>;
}>;

/** The selection by exact times, what can be done with it, and its values as a table. */
export function SelectionPanel(props: SelectionPanelProps) {
  const { sessionId, window, selection, keys, dispatch } = props;
  const { session } = props.place;
  const query = (stretch: TimeWindow): URLSearchParams => {
    const asked = new URLSearchParams({ from: `${stretch.fromS}`, to: `${stretch.toS}` });
    for (const key of keys) asked.append('c', key);
    return asked;
  };
  const nearContact =
    selection !== null && keys.includes('closing_rate')
      ? nearContactNote('closing_rate', selection, props.contactS)
      : null;
  const base = `/sessions/${encodeURIComponent(sessionId)}/timeline/rows`;
  const questions = `/sessions/${encodeURIComponent(sessionId)}/questions`;
  const tables = useFetched(
    selection === null || keys.length === 0 ? null : `${base}?${query(selection)}`,
    isStretchRows,
  );
  return (
    <section className={styles.panel} aria-labelledby="selection-title">
      <div className={styles.headLine}>
        <h2 id="selection-title">Selection</h2>
        <StretchFields
          place={props.place}
          stretch={selection}
          onChange={(stretch) => dispatch({ kind: 'select', selection: stretch })}
        />
        <span className={styles.length}>
          {selection === null
            ? 'nothing selected'
            : spokenDuration(selection.toS - selection.fromS, 1)}
        </span>
        <SelectionButtons
          {...{ session, window, selection, dispatch }}
          rowsHref={selection === null ? null : `${base}?${query(selection)}&format=csv`}
          askHref={selection === null ? null : `${questions}?${query(selection)}`}
        />
      </div>
      {selection === null && (
        <p className="soft">
          Drag over the strips, or set the start with [ and the end with ] at the cursor, or type
          two times (session time, or UTC as 09:30:44 UTC). The values of the stretch then stand
          here as a table.
        </p>
      )}
      {selection !== null && keys.length > 0 && (
        <DifferenceTable sessionId={sessionId} selection={selection} keys={keys} />
      )}
      {nearContact !== null && (
        <p className="soft">Closing rate: {nearContact} Contact states the rate along the axis.</p>
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
