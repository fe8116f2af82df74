'use client';

import type { Dispatch } from 'react';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import { spokenDuration } from '@/lib/view/format-time';
import type { TimelineAction } from '@/lib/view/timeline-state';
import type { EntryPlace } from '@/lib/view/timeline-time-entry';
import forms from './forms.module.css';
import { MoveToSelection } from './move-to-selection';
import styles from './side-sheet.module.css';
import { StretchFields } from './stretch-fields';
import type { RemarkPlace } from './use-remark';

type RemarkStretchProps = Readonly<{
  place: EntryPlace;
  noun: 'finding' | 'annotation' | 'question';
  edit: RemarkPlace;
  selection: TimeWindow | null;
  dispatch: Dispatch<TimelineAction>;
}>;

/**
 * Where a remark stands: both ends can be typed. A new one follows the selection; one that is saved
 * keeps its own stretch until somebody moves it on purpose.
 */
export function RemarkStretch({ place, noun, edit, selection, dispatch }: RemarkStretchProps) {
  const { stretch, existing, moved, move } = edit;
  if (stretch === null) return null;
  const isInstant = stretch.fromS === stretch.toS;
  return (
    <div className={styles.stretch}>
      <div className={forms.pair}>
        <StretchFields
          place={place}
          stretch={stretch}
          onChange={(next) => {
            if (existing !== null) move(next);
            dispatch({ kind: 'select', selection: next });
          }}
        />
      </div>
      {isInstant ? (
        <p className={styles.note}>
          This {noun} stands at one instant. For a stretch, drag over the strips or type both ends.
        </p>
      ) : (
        <p className={styles.sub}>{spokenDuration(stretch.toS - stretch.fromS, 1)}</p>
      )}
      {existing !== null && <MoveToSelection stretch={stretch} selection={selection} move={move} />}
      {moved !== null && <p className={styles.note}>Moved, not yet saved.</p>}
    </div>
  );
}
