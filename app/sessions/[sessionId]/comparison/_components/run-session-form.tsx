'use client';

import { useActionState } from 'react';
import { SelectField } from '@/app/_components/form/field';
import { CLOCK_FORM_START } from '@/lib/view/clock/clock-edit';
import { addRunSessionAction } from '../actions';
import styles from './comparison.module.css';

type RunSessionFormProps = Readonly<{
  sessionId: string;
  sessions: readonly Readonly<{ value: string; text: string }>[];
}>;

const BASES = [
  { value: 'prediction', text: 'a prediction, or what it is: another flight' },
  { value: 'reconstruction', text: 'a reconstruction from the recorded inputs' },
];

/** Adds a session that is here already as a run. */
export function RunSessionForm({ sessionId, sessions }: RunSessionFormProps) {
  const [state, save, isSaving] = useActionState(
    addRunSessionAction.bind(null, { sessionId }),
    CLOCK_FORM_START,
  );
  const { typed, message, done } = state;
  if (sessions.length === 0) return null;
  return (
    <section className="panel no-print">
      <h2>Hold it against a session that is here</h2>
      <form key={state.attempt} className={`row ${styles.ends}`} action={save}>
        <SelectField
          label="Session"
          name="run"
          value={typed.run ?? sessions[0]?.value ?? ''}
          words={sessions}
        />
        <SelectField
          label="Counts as"
          name="basis"
          value={typed.basis ?? 'prediction'}
          words={BASES}
        />
        <button className="button" type="submit" disabled={isSaving}>
          {isSaving ? 'Keeping' : 'Add as a run'}
        </button>
      </form>
      <p
        className={message === null ? 'soft' : 'beyond'}
        role={message === null ? 'status' : 'alert'}
      >
        {message ?? done}
      </p>
    </section>
  );
}
