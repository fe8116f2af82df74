'use client';

import { useActionState, useId } from 'react';
import { Field, SelectField } from '@/app/_components/form/field';
import { CLOCK_FORM_START } from '@/lib/view/clock/clock-edit';
import { ReasonEnd } from '../../sources/_components/reason-end';
import { disposeAction } from '../actions';
import styles from './disposition-form.module.css';

type DispositionFormProps = Readonly<{
  sessionId: string;
  rules: readonly Readonly<{ value: string; text: string }>[];
  entries: readonly Readonly<{ value: string; text: string }>[];
}>;

const WORDS = { rest: 'Keep this disposition', busy: 'Keeping' };
const DECISIONS = ['waived', 'amended'] as const;

/** Writes down that a rule was waived or amended, by whom, when and in which log entry. */
export function DispositionForm({ sessionId, rules, entries }: DispositionFormProps) {
  const place = { sessionId };
  const [state, save, isSaving] = useActionState(disposeAction.bind(null, place), CLOCK_FORM_START);
  const list = useId();
  const { typed, fields } = state;
  if (rules.length === 0) return null;
  return (
    <section className="panel no-print" id="decide">
      <h2>Waive or amend a rule</h2>
      <form key={state.attempt} className="stack" action={save}>
        <div className={styles.fields}>
          <SelectField
            label="Rule"
            name="rule"
            value={typed.rule ?? rules[0]?.value ?? ''}
            words={rules}
          />
          <SelectField
            label="Decision"
            name="disposition"
            value={typed.disposition ?? 'waived'}
            words={DECISIONS}
          />
          <Field
            label="Given by"
            name="givenBy"
            value={typed.givenBy ?? ''}
            problem={fields.givenBy}
          />
          <Field
            label="Log entry"
            name="entry"
            value={typed.entry ?? ''}
            problem={fields.entry}
            list={list}
          />
          <Field
            label="When, if not at the entry"
            name="atS"
            value={typed.atS ?? ''}
            problem={fields.atS}
          />
        </div>
        <datalist id={list}>
          {entries.map(({ value, text }) => (
            <option key={value} value={value}>
              {text}
            </option>
          ))}
        </datalist>
        <Field
          label="Amended to, in words (for amended only)"
          name="amendedTo"
          value={typed.amendedTo ?? ''}
          problem={fields.amendedTo}
        />
        <ReasonEnd state={state} words={WORDS} isSaving={isSaving} />
      </form>
      <p className="panel-note">
        The verdict stays what the data say. A disposition stands beside it with who gave it, when
        and where it was logged, and it can be undone.
      </p>
    </section>
  );
}
