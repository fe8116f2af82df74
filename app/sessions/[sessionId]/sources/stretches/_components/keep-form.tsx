'use client';

import { useActionState } from 'react';
import { Field } from '@/app/_components/form/field';
import { CLOCK_FORM_START } from '@/lib/view/clock/clock-edit';
import type { OverruledFault } from '@/lib/view/stretches-view';
import { type StretchPlace, stretchAction } from '../actions';
import styles from './stretches.module.css';

type KeepFormProps = Readonly<{ row: OverruledFault; place: StretchPlace }>;

/** Overrules one fault: its samples count, for the reason that is given. */
export function KeepForm({ row, place }: KeepFormProps) {
  const [state, save, isSaving] = useActionState(stretchAction.bind(null, place), CLOCK_FORM_START);
  const { typed, fields, message, done } = state;
  return (
    <details className={`${styles.keep} no-print`}>
      <summary>
        keep it
        <span className="visually-hidden">
          {' '}
          in the figures: {row.channel}, {row.when}
        </span>
      </summary>
      <form key={state.attempt} className="stack" action={save}>
        <input type="hidden" name="channel" value={row.channel} />
        <input type="hidden" name="fromS" value={row.stretch?.from} />
        <input type="hidden" name="toS" value={row.stretch?.to} />
        <input type="hidden" name="use" value="keep" />
        <Field label="Reason" name="reason" value={typed.reason ?? ''} problem={fields.reason} />
        <button className="button" type="submit" disabled={isSaving}>
          Keep it in the figures
        </button>
        <p className={message === null ? 'soft' : 'beyond'} role="status">
          {message ?? done}
        </p>
      </form>
    </details>
  );
}
