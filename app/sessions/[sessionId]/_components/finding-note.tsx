'use client';

import { useActionState } from 'react';
import { Field, SelectField } from '@/app/_components/form/field';
import { FormEnd } from '@/app/_components/form/form-end';
import { CLOCK_FORM_START } from '@/lib/view/clock/clock-edit';
import { FINDING_CHOICES } from '@/lib/view/finding-edit';
import type { FindingPlace } from '@/lib/view/finding-place';
import { writeFindingAction } from '../findings/actions';

type FindingNoteProps = Readonly<{ place: FindingPlace; about: string }>;

/** A finding in two steps: open, write. The numbers beside it are captured with it. */
export function FindingNote({ place, about }: FindingNoteProps) {
  const [state, save, isSaving] = useActionState(
    writeFindingAction.bind(null, place),
    CLOCK_FORM_START,
  );
  const { typed, fields } = state;
  return (
    <details className="no-print">
      <summary>
        Write a finding on {about.charAt(0).toLowerCase()}
        {about.slice(1)}
      </summary>
      <form key={state.attempt} className="stack" action={save}>
        <Field label="Title" name="title" value={typed.title ?? about} problem={fields.title} />
        <Field
          label="What was seen"
          name="seen"
          rows={3}
          value={typed.seen ?? ''}
          problem={fields.seen}
        />
        <div className="row">
          <SelectField
            label="Kind"
            name="kind"
            value={typed.kind ?? 'observation'}
            words={FINDING_CHOICES.kind}
          />
          <SelectField
            label="Severity"
            name="severity"
            value={typed.severity ?? 'note'}
            words={FINDING_CHOICES.severity}
          />
        </div>
        <FormEnd
          state={state}
          isSaving={isSaving}
          words={['Keep this finding', 'Keeping']}
          hint={`The ${place.keys.length} numbers of this part are kept with it.`}
        />
      </form>
    </details>
  );
}
