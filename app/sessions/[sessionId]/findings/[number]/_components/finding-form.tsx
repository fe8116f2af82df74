'use client';

import Link from 'next/link';
import { useActionState } from 'react';
import { Field, SelectField } from '@/app/_components/form/field';
import { type EditState, FINDING_CHOICES, type NewerFinding } from '@/lib/view/finding-edit';
import { editFindingAction } from '../../actions';
import styles from './finding-form.module.css';

type FindingFormProps = Readonly<{
  place: Readonly<{ sessionId: string; number: number }>;
  start: EditState;
  href: string;
}>;

/** The words of a finding. Where somebody saved meanwhile, both texts stand side by side. */
export function FindingForm({ place, start, href }: FindingFormProps) {
  const [state, save, isSaving] = useActionState(editFindingAction.bind(null, place), start);
  const { words, fields, newer } = state;
  return (
    <div className={newer === null ? styles.one : styles.two}>
      {newer !== null && <Newer newer={newer} />}
      <form key={state.attempt} className="panel stack" action={save}>
        <h1>{newer === null ? `Edit finding ${place.number}` : 'Your text'}</h1>
        {state.message !== null && (
          <p className="beyond" role="alert">
            {newer === null
              ? state.message
              : 'Somebody saved this finding while you were writing. Nothing of yours is lost: take over what you want from their text, then save.'}
          </p>
        )}
        <input type="hidden" name="version" value={words.version} />
        <Field label="Title" name="title" value={words.title} problem={fields.title} />
        <Field
          label="What was seen"
          name="seen"
          value={words.seen}
          rows={6}
          problem={fields.seen}
        />
        <Field
          label="What should change"
          name="change"
          value={words.change}
          rows={4}
          problem={fields.change}
        />
        <div className={styles.selects}>
          <Field label="Owner" name="owner" value={words.owner} problem={fields.owner} />
          <Field label="Due" name="due" type="date" value={words.due} problem={fields.due} />
        </div>
        <div className={styles.selects}>
          <SelectField label="Kind" name="kind" value={words.kind} words={FINDING_CHOICES.kind} />
          <SelectField
            label="Severity"
            name="severity"
            value={words.severity}
            words={FINDING_CHOICES.severity}
          />
          <SelectField
            label="State"
            name="state"
            value={words.state}
            words={FINDING_CHOICES.state}
          />
        </div>
        <div className="row">
          <button className="button primary" type="submit" disabled={isSaving}>
            {newer === null ? 'Save' : 'Save mine over theirs'}
          </button>
          <Link className="button" href={href}>
            {newer === null ? 'Leave without saving' : 'Drop mine, keep theirs'}
          </Link>
        </div>
      </form>
    </div>
  );
}

function Newer({ newer }: Readonly<{ newer: NewerFinding }>) {
  const { words } = newer;
  return (
    <section className="panel stack">
      <h2>Their text, saved {newer.savedAt}</h2>
      <dl className={styles.newer}>
        <dt>Title</dt>
        <dd>{words.title}</dd>
        <dt>What was seen</dt>
        <dd>{words.seen}</dd>
        <dt>What should change</dt>
        <dd>{words.change === '' ? '(empty)' : words.change}</dd>
        <dt>Owner, due</dt>
        <dd>
          {words.owner === '' ? '(nobody)' : words.owner}, {words.due === '' ? '(open)' : words.due}
        </dd>
        <dt>Kind, severity, state</dt>
        <dd>
          {words.kind}, {words.severity}, {words.state}
        </dd>
      </dl>
    </section>
  );
}
