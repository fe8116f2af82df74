'use client';

import { type Dispatch, type FormEvent, useId, useState } from 'react';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import type { TimelineAction } from '@/lib/view/timeline-state';
import type { EntryPlace } from '@/lib/view/timeline-time-entry';
import { askQuestion } from '../actions';
import forms from './forms.module.css';
import { Refused } from './refused';
import { RemarkStretch } from './remark-stretch';
import { sendOnControlEnter } from './send-on-enter';
import styles from './side-sheet.module.css';
import { useRemark } from './use-remark';

type QuestionFormProps = Readonly<{
  sessionId: string;
  place: EntryPlace;
  selection: TimeWindow | null;
  channels: readonly string[];
  dispatch: Dispatch<TimelineAction>;
  say: (sentence: string) => void;
}>;

/** A question to the crew about the selected stretch, put on their sheet without leaving the strips. */
export function QuestionForm(props: QuestionFormProps) {
  const { sessionId, selection, channels, dispatch, say } = props;
  const id = useId();
  const edit = useRemark({
    draftKey: `wakeline.question.${sessionId}.new`,
    remark: null,
    words: { question: '' },
    selection,
  });
  const { draft, stretch, refused, takeVersion, waits } = edit;
  const [asked, setAsked] = useState<number | null>(null);
  if (stretch === null) return <p>Select a stretch on the strips first.</p>;
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    const { fromS, toS } = stretch;
    edit.send(
      () => askQuestion(sessionId, { ...draft.fields, fromS, toS, channels }),
      ({ number }) => {
        say(`Question ${number} is on the sheet.`);
        setAsked(number);
      },
    );
  };
  return (
    <form className={styles.form} onSubmit={submit} onKeyDown={sendOnControlEnter}>
      <RemarkStretch
        place={props.place}
        noun="question"
        edit={edit}
        selection={selection}
        dispatch={dispatch}
      />
      {refused !== null && <Refused refusal={refused} takeVersion={takeVersion} />}
      <div className={forms.field}>
        <label htmlFor={`${id}-question`}>Question</label>
        <textarea
          id={`${id}-question`}
          data-first
          value={draft.fields.question}
          required
          maxLength={2000}
          onChange={(event) => draft.put({ question: event.target.value })}
        />
      </div>
      <p className={styles.sub}>
        The traces shown and the words said stand beside it.{' '}
        <a href={`/sessions/${encodeURIComponent(sessionId)}/questions`}>The sheet of questions</a>
      </p>
      {asked !== null && <p className={styles.sub}>Question {asked} is on the sheet.</p>}
      <div className={styles.buttons}>
        <button type="submit" className="button primary" disabled={waits}>
          {waits ? 'Saving…' : 'Put it on the sheet'}
        </button>
      </div>
    </form>
  );
}
