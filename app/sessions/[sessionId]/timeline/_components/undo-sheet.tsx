'use client';

import { type Dispatch, useState, useTransition } from 'react';
import type { Annotation, Finding } from '@/lib/core/findings/finding';
import type { TimelineAction } from '@/lib/view/timeline-state';
import { saveAnnotation, saveFinding } from '../actions';
import styles from './side-sheet.module.css';
import { withAddressAtRest } from './use-address';

type UndoSheetProps = Readonly<{
  sessionId: string;
  /** What was just taken away. */
  was:
    | Readonly<{ kind: 'withdrawn'; finding: Finding }>
    | Readonly<{ kind: 'removed'; annotation: Annotation }>;
  dispatch: Dispatch<TimelineAction>;
  say: (sentence: string) => void;
}>;

/** Says what was taken away and puts it back on request. */
export function UndoSheet({ sessionId, was, dispatch, say }: UndoSheetProps) {
  const [waits, start] = useTransition();
  const [failed, setFailed] = useState('');
  const putBack = async (): Promise<string | null> => {
    if (was.kind === 'withdrawn') {
      const { id, version, title, seen, change, kind, severity, anchor } = was.finding;
      const draft = { title, seen, change, kind, severity, state: 'draft', ...anchor };
      const result = await withAddressAtRest(() => saveFinding(sessionId, draft, { id, version }));
      return result.ok ? null : result.message;
    }
    const { text, anchor } = was.annotation;
    const result = await withAddressAtRest(() =>
      saveAnnotation(sessionId, { text, ...anchor }, null),
    );
    return result.ok ? null : result.message;
  };
  const undo = (): void =>
    start(async () => {
      const message = await putBack().catch(() => 'The server does not answer.');
      if (message !== null) {
        setFailed(message);
        return;
      }
      say('Put back.');
      dispatch({ kind: 'close' });
    });
  return (
    <div className={styles.form}>
      <p>
        {was.kind === 'withdrawn'
          ? `Finding ${was.finding.number}, ${was.finding.title}, is withdrawn: it is no longer drawn and keeps its number.`
          : `The annotation “${was.annotation.text}” is removed.`}
      </p>
      {failed !== '' && (
        <p className={styles.wrong} role="alert">
          {failed}
        </p>
      )}
      <div className={styles.buttons}>
        <button type="button" className="button primary" disabled={waits} onClick={undo}>
          {waits ? 'Putting back…' : 'Undo'}
        </button>
      </div>
    </div>
  );
}
