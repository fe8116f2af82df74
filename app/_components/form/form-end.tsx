import type { ClockFormState } from '@/lib/view/clock/clock-edit';

type FormEndProps = Readonly<{
  state: ClockFormState;
  isSaving: boolean;
  /** The button at rest and while it is being kept. */
  words: readonly [rest: string, busy: string];
  /** Said beside the button until something was tried. */
  hint?: string;
}>;

/** What became of the last try, and the button. */
export function FormEnd({ state, isSaving, words, hint }: FormEndProps) {
  const { message, done } = state;
  const [rest, busy] = words;
  return (
    <div className="row">
      <button className="button primary" type="submit" disabled={isSaving}>
        {isSaving ? busy : rest}
      </button>
      <span
        className={message === null ? 'soft' : 'beyond'}
        role={message === null ? 'status' : 'alert'}
      >
        {message ?? done ?? hint}
      </span>
    </div>
  );
}
