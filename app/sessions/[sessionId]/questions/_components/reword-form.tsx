'use client';

import { useActionState, useState } from 'react';
import { Field } from '@/app/_components/form/field';
import { FormEnd } from '@/app/_components/form/form-end';
import { CLOCK_FORM_START } from '@/lib/view/clock/clock-edit';
import { rewordAction } from '../actions';
import type { QuestionPlace } from './answer-form';

type RewordFormProps = Readonly<{ place: QuestionPlace; question: string }>;

/** Changes a question that nobody has answered yet. */
export function RewordForm({ place, question }: RewordFormProps) {
  // The version that was seen, however the page changes behind what is being typed.
  const [seen, setSeen] = useState({ attempt: CLOCK_FORM_START.attempt, version: place.version });
  const [state, reword, isSaving] = useActionState(
    rewordAction.bind(null, { ...place, version: seen.version }),
    CLOCK_FORM_START,
  );
  if (state.attempt !== seen.attempt) {
    setSeen({ attempt: state.attempt, version: place.version });
  }
  return (
    <details>
      <summary>Change its words</summary>
      <form key={state.attempt} className="stack" action={reword}>
        <Field
          label="Question"
          name="question"
          rows={2}
          value={state.typed.question ?? question}
          problem={state.fields.question}
        />
        <FormEnd state={state} isSaving={isSaving} words={['Keep', 'Keeping']} />
      </form>
    </details>
  );
}
