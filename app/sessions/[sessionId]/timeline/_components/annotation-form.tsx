'use client';

import { type Dispatch, type FormEvent, useId, useState, useTransition } from 'react';
import type { Annotation } from '@/lib/core/findings/finding';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import { formatStretch } from '@/lib/view/format-time';
import type { TimelineAction } from '@/lib/view/timeline-state';
import { dropAnnotation, saveAnnotation } from '../actions';
import forms from './forms.module.css';
import { MoveToSelection } from './move-to-selection';
import { Refused, type RefusedProps } from './refused';
import styles from './side-sheet.module.css';
import { withAddressAtRest } from './use-address';
import { useDraft } from './use-draft';

type AnnotationFormProps = Readonly<{
  sessionId: string;
  selection: TimeWindow | null;
  channels: readonly string[];
  annotation: Annotation | null;
  dispatch: Dispatch<TimelineAction>;
  say: (sentence: string) => void;
}>;

const NO_ANSWER = { message: 'The server does not answer. Your words are kept in this tab.' };

/** A remark on the selected stretch. */
export function AnnotationForm(props: AnnotationFormProps) {
  const { sessionId, selection, channels, annotation, dispatch, say } = props;
  const id = useId();
  const [version, setVersion] = useState(annotation?.version ?? 0);
  const [refused, setRefused] = useState<RefusedProps['refusal'] | null>(null);
  const [waits, start] = useTransition();
  const draft = useDraft(`wakeline.annotation.${sessionId}.${annotation?.id ?? 'new'}`, {
    text: annotation?.text ?? '',
  });
  if (annotation !== null && annotation.version > version && draft.words === 'clean') {
    setVersion(annotation.version);
    draft.takeUp({ text: annotation.text });
  }
  const [moved, setMoved] = useState<TimeWindow | null>(null);
  const stretch = annotation === null ? selection : (moved ?? annotation.anchor);
  if (stretch === null) return <p>Select a stretch on the strips first.</p>;
  const existing = annotation === null ? null : { id: annotation.id, version };

  const submit = (event: FormEvent): void => {
    event.preventDefault();
    start(async () => {
      const sent = {
        ...draft.fields,
        fromS: stretch.fromS,
        toS: stretch.toS,
        channels: annotation?.anchor.channels ?? channels,
      };
      const result = await withAddressAtRest(() => saveAnnotation(sessionId, sent, existing)).catch(
        () => null,
      );
      if (result === null || !result.ok) {
        setRefused(result ?? NO_ANSWER);
        return;
      }
      draft.forget();
      say('Annotation saved.');
      dispatch({ kind: 'close' });
    });
  };
  const remove = (): void => {
    if (existing === null || annotation === null) return;
    start(async () => {
      const result = await withAddressAtRest(() => dropAnnotation(sessionId, existing)).catch(
        () => null,
      );
      if (result === null || !result.ok) {
        setRefused(result ?? NO_ANSWER);
        return;
      }
      draft.forget();
      say('Annotation removed.');
      dispatch({ kind: 'open', sheet: { kind: 'removed', annotation } });
    });
  };

  return (
    <form className={styles.form} onSubmit={submit}>
      <p className={styles.sub}>
        <span className="num">{formatStretch(stretch.fromS, stretch.toS)}</span>
        {annotation !== null && `, by ${annotation.author}`}
      </p>
      {annotation !== null && (
        <MoveToSelection stretch={stretch} selection={selection} move={setMoved} />
      )}
      {refused !== null && (
        <Refused
          refusal={refused}
          takeVersion={(newer) => {
            setVersion(newer);
            setRefused(null);
          }}
        />
      )}
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
