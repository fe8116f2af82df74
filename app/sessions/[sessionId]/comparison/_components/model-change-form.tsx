'use client';

import { useActionState, useState } from 'react';
import { Field, SelectField } from '@/app/_components/form/field';
import { useKeptWords } from '@/app/_components/form/use-kept-words';
import { CLOCK_FORM_START, type ClockFormState } from '@/lib/view/clock/clock-edit';
import type { EvidenceChoice } from '@/lib/view/comparison-keys';
import type { KeptWords } from '@/lib/view/kept-words';
import type { ModelChangeRowView } from '@/lib/view/model-change-view';
import { saveModelChangeAction } from '../actions';
import styles from './comparison.module.css';

type ModelChangeFormProps = Readonly<{
  sessionId: string;
  /** The page's question, so that evidence is captured as it is shown. */
  query: string;
  /** The change that is edited; null for a new one. */
  change: ModelChangeRowView | null;
  evidence: readonly EvidenceChoice[];
  states: readonly string[];
}>;

const FIELDS = [
  ['parameter', 'Parameter'],
  ['now', 'Now'],
  ['proposed', 'Proposed'],
  ['owner', 'Owner'],
] as const;

/** A change of the model: what, from what, to what, who, and the numbers that speak for it. */
export function ModelChangeForm({
  sessionId,
  query,
  change,
  evidence,
  states,
}: ModelChangeFormProps) {
  const id = change?.id ?? null;
  const version = change?.version ?? null;
  const place = { sessionId, query, id, version };
  const key = `wakeline.model-change.${sessionId}.${id ?? 'new'}`;
  const { kept, round, keep, forget } = useKeptWords(key, version);
  const words = kept?.words;
  const [isOpen, setOpen] = useState<boolean | null>(null);
  const [state, save, isSaving] = useActionState(
    async (before: ClockFormState, form: FormData): Promise<ClockFormState> => {
      const after = await saveModelChangeAction(place, before, form);
      if (after.done !== null) forget();
      return after;
    },
    CLOCK_FORM_START,
  );
  const { fields, message, done } = state;
  const isOvertaken = kept !== null && kept.since !== version;
  return (
    <details
      className="no-print"
      open={isOpen ?? kept !== null}
      onToggle={({ currentTarget }) => setOpen(currentTarget.open)}
    >
      <summary>
        {change === null ? (
          'Propose a change'
        ) : (
          <>
            Edit<span className="visually-hidden"> change {change.number}</span>
          </>
        )}
      </summary>
      <form
        // Another's words replace the fields only while nothing is typed.
        key={`${state.attempt} ${round} ${kept === null ? version : kept.since}`}
        className="stack"
        action={save}
        onInput={({ currentTarget }) => keep(currentTarget)}
      >
        <ChangeFields {...{ change, evidence, states, words, fields }} />
        {isOvertaken && (
          <p className="unsure" role="status">
            It was changed after you began to type. The table shows what it says now; keeping your
            words puts them in place of it.
          </p>
        )}
        <div className="row">
          <button className="button primary" type="submit" disabled={isSaving}>
            {isSaving ? 'Keeping' : 'Keep this change'}
          </button>
          {kept !== null && (
            <button className="button" type="button" disabled={isSaving} onClick={forget}>
              Discard what is typed
            </button>
          )}
          <span
            className={message === null ? 'soft' : 'beyond'}
            role={message === null ? 'status' : 'alert'}
          >
            {message ?? done}
          </span>
        </div>
      </form>
    </details>
  );
}

type ChangeFieldsProps = Pick<ModelChangeFormProps, 'change' | 'evidence' | 'states'> &
  Readonly<{ words: KeptWords['words'] | undefined; fields: ClockFormState['fields'] }>;

function ChangeFields({ change, evidence, states, words, fields }: ChangeFieldsProps) {
  return (
    <>
      <div className={styles.changeFields}>
        {FIELDS.map(([name, label]) => (
          <Field
            key={name}
            label={label}
            name={name}
            value={words?.[name]?.[0] ?? change?.[name] ?? ''}
            problem={fields[name]}
          />
        ))}
        <SelectField
          label="State"
          name="state"
          value={words?.state?.[0] ?? change?.state ?? 'proposed'}
          words={states}
        />
      </div>
      <label className={styles.evidence}>
        {change === null || change.evidence.length === 0
          ? 'Evidence, one or more'
          : `Evidence: ${change.evidence.length} figures kept; choosing here takes their place`}
        <select name="evidence" multiple size={6} defaultValue={words?.evidence ?? []}>
          {evidence.map(({ value, text }) => (
            <option key={text} value={value}>
              {text}
            </option>
          ))}
        </select>
      </label>
    </>
  );
}
