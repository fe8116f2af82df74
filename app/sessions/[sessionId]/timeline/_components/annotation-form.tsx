'use client';

import { type Dispatch, type FormEvent, useId } from 'react';
import type { Annotation } from '@/lib/core/findings/finding';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import { formatStretch } from '@/lib/view/format-time';
import type { TimelineAction } from '@/lib/view/timeline-state';
import { dropAnnotation, saveAnnotation } from '../actions';
import forms from './forms.module.css';
import { MoveToSelection } from './move-to-selection';
import { Refused } from './refused';
import styles from './side-sheet.module.css';
import { useRemark } from './use-remark';

type AnnotationFormProps = Readonly<{
  sessionId: string;
  selection: TimeWindow | null;
  channels: readonly string[];
  annotation: Annotation | null;
  dispatch: Dispatch<TimelineAction>;
  say: (sentence: string) => void;
}>;

/** A remark on the selected stretch. */
export function AnnotationForm(props: AnnotationFormProps) {
  const { sessionId, selection, channels, annotation, dispatch, say } = props;
  const id = useId();
  const edit = useRemark({
    draftKey: `wakeline.annotation.${sessionId}.${annotation?.id ?? 'new'}`,
    remark: annotation,
    words: { text: annotation?.text ?? '' },
    selection,
  });
  const { draft, stretch, existing, refused, takeVersion, waits } = edit;
  if (stretch === null) return <p>Select a stretch on the strips first.</p>;

  const submit = (event: FormEvent): void => {
    event.preventDefault();
    const sent = {
      ...draft.fields,
      fromS: stretch.fromS,
      toS: stretch.toS,
      channels: annotation?.anchor.channels ?? channels,
    };
    edit.send(
      () => saveAnnotation(sessionId, sent, existing),
      () => {
        say('Annotation saved.');
        dispatch({ kind: 'close' });
      },
    );
  };
  const remove = (): void => {
    if (existing === null || annotation === null) return;
    edit.send(
      () => dropAnnotation(sessionId, existing),
      () => {
        say('Annotation removed.');
        dispatch({ kind: 'open', sheet: { kind: 'removed', annotation } });
      },
    );
  };

  return (
    <form className={styles.form} onSubmit={submit}>
      <p className={styles.sub}>
        <span className="num">{formatStretch(stretch.fromS, stretch.toS)}</span>
        {annotation !== null && `, by ${annotation.author}`}
      </p>
      {annotation !== null && (
        <MoveToSelection stretch={stretch} selection={selection} move={edit.move} />
      )}
      {refused !== null && <Refused refusal={refused} takeVersion={takeVersion} />}
      <div className={forms.field}>
        <label htmlFor={`${id}-text`}>Remark</label>
        <textarea
          id={`${id}-text`}
          value={draft.fields.text}
          required
          maxLength={5000}
          onChange={(event) => draft.put({ text: event.target.value })}
        />
      </div>
      <div className={styles.buttons}>
        <button type="submit" className="button primary" disabled={waits}>
          {waits ? 'Saving…' : 'Save'}
        </button>
        {annotation !== null && (
          <button type="button" className="button danger" disabled={waits} onClick={remove}>
            Remove
          </button>
        )}
      </div>
    </form>
  );
}
