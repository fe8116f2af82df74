'use client';

import { useActionState, useEffect, useId, useRef, useState } from 'react';
import { Field, SelectField } from '@/app/_components/form/field';
import { CLOCK_FORM_START, type ClockFormState } from '@/lib/view/clock/clock-edit';
import { timeField } from '@/lib/view/phase-edit-form';
import type { EditOffer } from '@/lib/view/phase-edit-view';
import { editPhaseAction } from '../phases/actions';
import { ReasonEnd } from '../sources/_components/reason-end';
import styles from './edit-dialog.module.css';

/** The session, its steps, and the corrections of it that were seen when the page was made. */
export type EditPlace = Readonly<{
  sessionId: string;
  version: number;
  steps: readonly Readonly<{ value: string; text: string }>[];
}>;

type EditDialogProps = Readonly<{ offer: EditOffer; place: EditPlace; onClosed: () => void }>;

const WORDS = { rest: 'Keep', busy: 'Keeping' };

/** One correction of a phase or of contact; Escape leaves everything as it was. */
export function EditDialog({ offer, place, onClosed }: EditDialogProps) {
  const { sessionId, version } = place;
  const dialog = useRef<HTMLDialogElement>(null);
  const title = useId();
  // What was seen when it opened, however the page changes behind it.
  const [seen] = useState(version);
  const [state, save, isSaving] = useActionState(
    editPhaseAction.bind(null, { sessionId, target: offer.target }),
    CLOCK_FORM_START,
  );
  useEffect(() => {
    if (dialog.current?.open === false) dialog.current.showModal();
  }, []);
  useEffect(() => {
    if (state.done !== null) dialog.current?.close();
  }, [state.done]);
  const close = () => dialog.current?.close();
  return (
    <dialog ref={dialog} className={styles.dialog} aria-labelledby={title} onClose={onClosed}>
      <form key={state.attempt} className="stack" action={save}>
        <h2 id={title}>{offer.title}</h2>
        <p className="soft">{offer.now}</p>
        <input type="hidden" name="version" value={state.typed.version ?? seen} />
        <EditFields offer={offer} state={state} steps={place.steps} />
        <ReasonEnd state={state} words={WORDS} isSaving={isSaving} onCancel={close} />
      </form>
    </dialog>
  );
}

type EditFieldsProps = Pick<EditPlace, 'steps'> &
  Readonly<{ offer: EditOffer; state: ClockFormState }>;

function EditFields({ offer, state: { typed, fields }, steps }: EditFieldsProps) {
  const { target, value } = offer;
  if (target.kind === 'name-run') {
    return <SelectField label="Step" name="step" value={typed.step ?? value} words={steps} />;
  }
  const name = timeField(target);
  const isContact = target.kind === 'contact';
  return (
    <>
      <Field
        label="Time, as hh:mm:ss, seconds, or a clock time such as 09:30:44 UTC"
        name={name}
        value={typed[name] ?? value}
        problem={fields[name]}
      />
      <Field
        label={
          isContact ? 'Standard deviation, s' : 'Standard deviation, s (empty: none is stated)'
        }
        name="sdS"
        value={typed.sdS ?? ''}
        problem={fields.sdS}
      />
      {isContact && (
        <Field
          label="What it rests on"
          name="basis"
          value={typed.basis ?? ''}
          problem={fields.basis}
        />
      )}
    </>
  );
}
