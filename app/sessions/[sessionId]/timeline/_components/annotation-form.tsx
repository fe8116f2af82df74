'use client';

import { type Dispatch, type FormEvent, useId } from 'react';
import type { Annotation } from '@/lib/core/findings/finding';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import type { RemarkEdit } from '@/lib/view/timeline-history';
import type { TimelineAction } from '@/lib/view/timeline-state';
import type { EntryPlace } from '@/lib/view/timeline-time-entry';
import { dropAnnotation, saveAnnotation } from '../actions';
import forms from './forms.module.css';
import { Refused } from './refused';
import { RemarkStretch } from './remark-stretch';
import { sendOnControlEnter } from './send-on-enter';
import styles from './side-sheet.module.css';
import { useRemark } from './use-remark';

type AnnotationFormProps = Readonly<{
  sessionId: string;
  place: EntryPlace;
  selection: TimeWindow | null;
  channels: readonly string[];
  annotation: Annotation | null;
  dispatch: Dispatch<TimelineAction>;
  say: (sentence: string) => void;
  remember: (edit: RemarkEdit) => void;
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

  const before = annotation === null ? null : ({ kind: 'annotation', annotation } as const);
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
      (saved) => {
        props.remember({ before, after: { kind: 'annotation', annotation: saved } });
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
        props.remember({ before, after: null });
        say('Annotation removed.');
        dispatch({ kind: 'open', sheet: { kind: 'removed', annotation } });
      },
    );
  };

  return (
    <form className={styles.form} onSubmit={submit} onKeyDown={sendOnControlEnter}>
      {annotation !== null && <p className={styles.sub}>by {annotation.author}</p>}
      <RemarkStretch
        place={props.place}
        noun="annotation"
        edit={edit}
        selection={selection}
        dispatch={dispatch}
      />
      {refused !== null && <Refused refusal={refused} takeVersion={takeVersion} />}
      <div className={forms.field}>
        <label htmlFor={`${id}-text`}>Remark</label>
        <textarea
          id={`${id}-text`}
          data-first
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
