import { Field } from '@/app/_components/form/field';
import type { ClockFormState } from '@/lib/view/clock/clock-edit';

type ReasonEndProps = Readonly<{
  state: ClockFormState;
  /** Words of the button, at rest and while it is being kept. */
  words: Readonly<{ rest: string; busy: string }>;
  isSaving: boolean;
  /** Closes what the form stands in; absent where there is nothing to close. */
  onCancel?: () => void;
}>;

/** The end of a correction's form: its reason, what became of the last try, and the button. */
export function ReasonEnd({ state, words, isSaving, onCancel }: ReasonEndProps) {
  const { typed, fields, message, done } = state;
  return (
    <>
      <Field label="Reason" name="reason" value={typed.reason ?? ''} problem={fields.reason} />
      <p
        className={message === null ? 'soft' : 'beyond'}
        role={message === null ? 'status' : 'alert'}
      >
        {message ?? done}
      </p>
      <div className="row">
        <button className="button primary" type="submit" disabled={isSaving}>
          {isSaving ? words.busy : words.rest}
        </button>
        {onCancel !== undefined && (
          <button className="button" type="button" onClick={onCancel}>
            Cancel
          </button>
        )}
      </div>
    </>
  );
}
