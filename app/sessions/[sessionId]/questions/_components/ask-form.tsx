'use client';

import { useActionState } from 'react';
import { Field } from '@/app/_components/form/field';
import { FormEnd } from '@/app/_components/form/form-end';
import { CLOCK_FORM_START } from '@/lib/view/clock/clock-edit';
import type { QuestionStart } from '@/lib/view/crew-questions-view';
import { askAction } from '../actions';
import styles from './questions.module.css';

type AskFormProps = Readonly<{
  sessionId: string;
  start: QuestionStart;
  /** What the channels are called on the timeline. */
  shown: readonly string[];
}>;

/** Puts a question on the sheet; the stretch comes from the timeline or is typed. */
export function AskForm({ sessionId, start, shown }: AskFormProps) {
  const { channels } = start;
  const [state, ask, isSaving] = useActionState(
    askAction.bind(null, { sessionId, channels }),
    CLOCK_FORM_START,
  );
  const { typed, fields } = state;
  return (
    <section className="panel no-print">
      <h2>Ask about a stretch</h2>
      <form key={state.attempt} className="stack" action={ask}>
        <div className={styles.times}>
          <Field
            label="From, session time"
            name="fromS"
            value={typed.fromS ?? start.fromS}
            problem={fields.fromS}
          />
          <Field
            label="To, session time"
            name="toS"
            value={typed.toS ?? start.toS}
            problem={fields.toS}
          />
        </div>
        <Field
          label="Question"
          name="question"
          rows={2}
          value={typed.question ?? ''}
          problem={fields.question}
        />
        <FormEnd state={state} isSaving={isSaving} words={['Put it on the sheet', 'Keeping']} />
      </form>
      <p className="panel-note">
        {channels.length === 0
          ? 'Range and closing rate stand beside it. A stretch chosen on the timeline brings the channels shown there.'
          : `Beside it stand the channels shown on the timeline: ${shown.join(', ')}.`}
      </p>
    </section>
  );
}
