'use client';

import type { Dispatch } from 'react';
import type { Annotation, Finding } from '@/lib/core/findings/finding';
import type { TimelineAction } from '@/lib/view/timeline-state';
import styles from './side-sheet.module.css';
import type { EditHistory } from './use-history';

type UndoSheetProps = Readonly<{
  /** What was just taken away. */
  was:
    | Readonly<{ kind: 'withdrawn'; finding: Finding }>
    | Readonly<{ kind: 'removed'; annotation: Annotation }>;
  dispatch: Dispatch<TimelineAction>;
  history: EditHistory;
}>;

/** Says what was taken away and puts it back on request. */
export function UndoSheet({ was, dispatch, history }: UndoSheetProps) {
  return (
    <div className={styles.form}>
      <p>
        {was.kind === 'withdrawn'
          ? `Finding ${was.finding.number}, ${was.finding.title}, is withdrawn: it is no longer drawn and keeps its number.`
          : `The annotation “${was.annotation.text}” is removed.`}
      </p>
      <div className={styles.buttons}>
        <button
          type="button"
          className="button primary"
          onClick={() => {
            history.step('undo');
            dispatch({ kind: 'close' });
          }}
        >
          Undo
        </button>
      </div>
    </div>
  );
}
