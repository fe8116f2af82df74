'use client';

import { useActionState } from 'react';
import { Field } from '@/app/_components/form/field';
import { CLOCK_FORM_START } from '@/lib/view/clock/clock-edit';
import type { LoadForm } from '@/lib/view/handling-forms';
import { giveTaskLoadAction } from '../actions';
import styles from './handling.module.css';

type LoadFormProps = Readonly<{ sessionId: string; task: string; form: LoadForm }>;

/** Six sub-scales, each a slider in steps of 5; the plain mean is the rating. */
export function TaskLoadForm({ sessionId, task, form }: LoadFormProps) {
  const [state, save, isSaving] = useActionState(
    giveTaskLoadAction.bind(null, { sessionId, task }),
    CLOCK_FORM_START,
  );
  const { typed, fields, message, done } = state;
  return (
    <details className="no-print">
      <summary>Task load: {form.name}</summary>
      <form key={state.attempt} className="stack" action={save}>
        <div className={styles.loads}>
          {form.scales.map(({ id, text }) => (
            <label key={id}>
              {text}
              <input
                type="range"
                name={id}
                min={0}
                max={100}
                step={5}
                defaultValue={typed[id] ?? '50'}
                onInput={(event) => {
                  const shown = event.currentTarget.nextElementSibling;
                  if (shown !== null) shown.textContent = event.currentTarget.value;
                }}
              />
              <output className="num">{typed[id] ?? '50'}</output>
            </label>
          ))}
        </div>
        <Field label="Rated by" name="rater" value={typed.rater ?? ''} problem={fields.rater} />
        <Field
          label="Remark"
          name="remark"
          rows={2}
          value={typed.remark ?? ''}
          problem={fields.remark}
        />
        <div className="row">
          <button className="button primary" type="submit" disabled={isSaving}>
            {isSaving ? 'Keeping' : 'Keep this task load'}
          </button>
        </div>
        <p
          className={message === null ? 'soft' : 'beyond'}
          role={message === null ? 'status' : 'alert'}
        >
          {message ?? done ?? form.source}
        </p>
      </form>
    </details>
  );
}
