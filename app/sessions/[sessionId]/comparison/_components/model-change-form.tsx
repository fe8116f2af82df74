'use client';

import { useActionState } from 'react';
import { Field, SelectField } from '@/app/_components/form/field';
import { CLOCK_FORM_START } from '@/lib/view/clock/clock-edit';
import type { EvidenceChoice } from '@/lib/view/comparison-keys';
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
  const place = { sessionId, query, id: change?.id ?? null, version: change?.version ?? null };
  const [state, save, isSaving] = useActionState(
    saveModelChangeAction.bind(null, place),
    CLOCK_FORM_START,
  );
  const { typed, fields, message, done } = state;
  return (
    <form key={state.attempt} className="stack" action={save}>
      <div className={styles.changeFields}>
        {FIELDS.map(([name, label]) => (
          <Field
            key={name}
            label={label}
            name={name}
            value={typed[name] ?? change?.[name] ?? ''}
            problem={fields[name]}
          />
        ))}
        <SelectField
          label="State"
          name="state"
          value={typed.state ?? change?.state ?? 'proposed'}
          words={states}
        />
      </div>
      <label className={styles.evidence}>
        {change === null || change.evidence.length === 0
          ? 'Evidence, one or more'
          : `Evidence: ${change.evidence.length} figures kept; choosing here takes their place`}
        <select name="evidence" multiple size={6}>
          {evidence.map(({ value, text }) => (
            <option key={text} value={value}>
              {text}
            </option>
          ))}
        </select>
      </label>
      <div className="row">
        <button className="button primary" type="submit" disabled={isSaving}>
          {isSaving ? 'Keeping' : 'Keep this change'}
        </button>
        <span
          className={message === null ? 'soft' : 'beyond'}
          role={message === null ? 'status' : 'alert'}
        >
          {message ?? done}
        </span>
      </div>
    </form>
  );
}
