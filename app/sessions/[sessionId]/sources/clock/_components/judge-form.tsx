'use client';

import { useActionState, useEffect, useRef, useState } from 'react';
import { Field, SelectField } from '@/app/_components/form/field';
import { CLOCK_FORM_START, SPOKEN_UNITS } from '@/lib/view/clock/clock-edit';
import type { ClockRow } from '@/lib/view/clock/clock-rows';
import { judgeAction } from '../actions';
import styles from './clock.module.css';
import { useFirstProblem } from './use-first-problem';

export type SourcePlace = Readonly<{ sessionId: string; source: string }>;

type JudgeFormProps = Readonly<{
  row: ClockRow;
  place: SourcePlace & Readonly<{ line: number; nth: number }>;
  /** Called with a word on what was done, or with null where nothing was. */
  onClose: (done: string | null) => void;
}>;

const KINDS = [
  ['accept', 'accept: it is certain'],
  ['reject', 'reject: keep it out of the clock'],
  ['correct', 'correct: something else was said'],
] as const;

/** Accepts, rejects or corrects a spoken value, with a reason. */
export function JudgeForm({ row, place, onClose }: JudgeFormProps) {
  const [state, save, isSaving] = useActionState(judgeAction.bind(null, place), CLOCK_FORM_START);
  const { typed, fields, message, done } = state;
  const form = useFirstProblem(state.attempt);
  const [kind, setKind] = useState<string>(row.state === 'doubtful' ? 'accept' : 'reject');
  const first = useRef<HTMLFieldSetElement>(null);

  useEffect(() => first.current?.querySelector<HTMLInputElement>('input:checked')?.focus(), []);
  useEffect(() => {
    if (done !== null) onClose('Kept.');
  }, [done, onClose]);

  return (
    <form
      key={state.attempt}
      ref={form}
      className={styles.form}
      action={save}
      onKeyDown={(event) => {
        if (event.key === 'Escape') onClose(null);
      }}
    >
      <fieldset ref={first} className={styles.kinds}>
        <legend>
          “{row.words}” at {row.sourceTime} of the source
        </legend>
        {KINDS.map(([value, label]) => (
          <label key={value}>
            <input
              type="radio"
              name="kind"
              value={value}
              defaultChecked={value === kind}
              onChange={() => setKind(value)}
            />
            {label}
          </label>
        ))}
      </fieldset>
      {kind === 'correct' && (
        <div className={styles.pair}>
          <Field label="Said" name="said" value={typed.said ?? ''} problem={fields.said} />
          <SelectField
            label="Unit (per second: a closing rate)"
            name="unit"
            value={typed.unit ?? (row.kind === 'rate' ? 'm/s' : 'm')}
            words={Object.keys(SPOKEN_UNITS)}
          />
        </div>
      )}
      <Field label="Reason" name="reason" value={typed.reason ?? ''} problem={fields.reason} />
      <p className="beyond" role="alert">
        {message}
      </p>
      <div className="row">
        <button className="button primary" type="submit" disabled={isSaving}>
          {isSaving ? 'Keeping' : 'Keep this judgement'}
        </button>
        <button className="button" type="button" onClick={() => onClose(null)}>
          Leave it
        </button>
      </div>
    </form>
  );
}
