'use client';

import { useActionState } from 'react';
import { Field, SelectField } from '@/app/_components/form/field';
import { CLOCK_FORM_START } from '@/lib/view/clock/clock-edit';
import { ReasonEnd } from '../../_components/reason-end';
import { type StretchPlace, stretchAction } from '../actions';
import styles from './stretches.module.css';

type StretchFormProps = Readonly<{ columns: readonly string[]; place: StretchPlace }>;

const WORDS = { rest: 'Keep this judgement', busy: 'Keeping' };
const USES = [
  { value: 'leave-out', text: 'leave it out' },
  { value: 'keep', text: 'keep it in the figures' },
];

/** Leaves a stretch of a column out of every figure, or keeps one that looks faulty. */
export function StretchForm({ columns, place }: StretchFormProps) {
  const [state, save, isSaving] = useActionState(stretchAction.bind(null, place), CLOCK_FORM_START);
  const { typed, fields } = state;
  return (
    <section className="panel no-print">
      <h2>Leave a stretch out, or keep one</h2>
      <form key={state.attempt} className="stack" action={save}>
        <div className={styles.fields}>
          <SelectField
            label="Column"
            name="channel"
            value={typed.channel ?? columns[0] ?? ''}
            words={columns}
          />
          <Field
            label="From, session time"
            name="fromS"
            value={typed.fromS ?? ''}
            problem={fields.fromS}
          />
          <Field label="To" name="toS" value={typed.toS ?? ''} problem={fields.toS} />
          <SelectField label="Use" name="use" value={typed.use ?? 'leave-out'} words={USES} />
        </div>
        <ReasonEnd state={state} words={WORDS} isSaving={isSaving} />
      </form>
      <p className="panel-note">
        Times as hh:mm:ss, hh:mm:ss.s or seconds from zero. Where velocity is measured, the motion
        is carried over a stretch of position that is left out.
      </p>
    </section>
  );
}
