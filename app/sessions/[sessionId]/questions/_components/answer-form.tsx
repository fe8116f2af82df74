'use client';

import { useActionState } from 'react';
import { Field } from '@/app/_components/form/field';
import { FormEnd } from '@/app/_components/form/form-end';
import { CLOCK_FORM_START } from '@/lib/view/clock/clock-edit';
import { answerAction } from '../actions';
import styles from './questions.module.css';

export type QuestionPlace = Readonly<{ sessionId: string; id: string; version: number }>;

type AnswerFormProps = Readonly<{ place: QuestionPlace; label: string }>;

/** Takes down what the crew answers, on a desk or on a tablet. */
export function AnswerForm({ place, label }: AnswerFormProps) {
  const [state, answer, isSaving] = useActionState(
    answerAction.bind(null, place),
    CLOCK_FORM_START,
  );
  const { typed, fields } = state;
  return (
    <form key={state.attempt} className={`${styles.form} no-print`} action={answer}>
      <Field
        label={`${label}, word for word`}
        name="text"
        rows={3}
        value={typed.text ?? ''}
        problem={fields.text}
      />
      <Field label="Answered by" name="by" value={typed.by ?? ''} problem={fields.by} />
      <FormEnd state={state} isSaving={isSaving} words={['Keep this answer', 'Keeping']} />
    </form>
  );
}
