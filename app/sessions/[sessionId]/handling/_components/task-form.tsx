'use client';

import { useActionState } from 'react';
import { Field, SelectField } from '@/app/_components/form/field';
import { CLOCK_FORM_START } from '@/lib/view/clock/clock-edit';
import { ReasonEnd } from '../../sources/_components/reason-end';
import { defineTaskAction } from '../actions';
import styles from './handling.module.css';

type TaskFormProps = Readonly<{
  sessionId: string;
  quantities: readonly Readonly<{ value: string; text: string }>[];
}>;

const WORDS = { rest: 'Keep this task', busy: 'Keeping' };
const FIELDS = [
  ['name', 'Name of the task'],
  ['pilot', 'Flown by'],
  ['fromS', 'From, session time'],
  ['toS', 'To, session time'],
] as const;
const BOUNDS = [
  ['target', 'Target, 0 if empty'],
  ['desired', 'Desired, within'],
  ['adequate', 'Adequate, within'],
] as const;

/** Names a task with its bounds, in the unit that stands beside the quantity. */
export function TaskForm({ sessionId, quantities }: TaskFormProps) {
  const [state, save, isSaving] = useActionState(
    defineTaskAction.bind(null, { sessionId }),
    CLOCK_FORM_START,
  );
  const { typed, fields } = state;
  return (
    <section className="panel no-print">
      <h2>Name a task</h2>
      <form key={state.attempt} className="stack" action={save}>
        <div className={styles.fields}>
          {FIELDS.map(([name, label]) => (
            <Field
              key={name}
              label={label}
              name={name}
              value={typed[name] ?? ''}
              problem={fields[name]}
            />
          ))}
          <SelectField
            label="What was to be kept"
            name="quantity"
            value={typed.quantity ?? quantities[0]?.value ?? ''}
            words={quantities}
          />
          {BOUNDS.map(([name, label]) => (
            <Field
              key={name}
              label={label}
              name={name}
              value={typed[name] ?? ''}
              problem={fields[name]}
            />
          ))}
        </div>
        <ReasonEnd state={state} words={WORDS} isSaving={isSaving} />
      </form>
      <p className="panel-note">
        Desired and adequate are half-widths about the target. What a mission asks is its own: the
        program knows no bounds of its own.
      </p>
    </section>
  );
}
