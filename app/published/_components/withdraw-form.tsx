'use client';

import { FoldedForm } from '@/app/_components/form/folded-form';
import { restoreAction, withdrawAction } from '../actions';
import styles from './published.module.css';

type WithdrawFormProps = Readonly<{
  place: Readonly<{ number: number; revision: number }>;
  /** When the withdrawal that is looked at was made; null while the revision stands. */
  withdrawnAtIso: string | null;
}>;

const reasonOf = (form: FormData): string => String(form.get('reason') ?? '');

/** Withdraws this revision, or takes its withdrawal back, with the reason; every file of it stays. */
export function WithdrawForm({ place, withdrawnAtIso }: WithdrawFormProps) {
  const stands = withdrawnAtIso === null;
  return (
    <FoldedForm
      key={String(withdrawnAtIso)}
      summary={stands ? 'Withdraw this revision' : 'Take the withdrawal back'}
      className={`no-print ${styles.more}`}
      submit={stands ? 'Withdraw it' : 'Take it back'}
      busy={stands ? 'Withdrawing\u2026' : 'Taking back\u2026'}
      send={(form) =>
        stands
          ? withdrawAction(place, reasonOf(form))
          : restoreAction({ ...place, withdrawnAtIso }, reasonOf(form))
      }
    >
      <p>
        {stands
          ? 'It stays readable and so do its files; page and register say that it was withdrawn, by whom and why. It can be taken back with a reason; both acts stay on record.'
          : 'For a withdrawal made by mistake. The revision counts again; that it was withdrawn, and why that was taken back, stays on its page.'}
      </p>
      <label>
        Reason
        <textarea name="reason" rows={2} maxLength={500} required />
      </label>
    </FoldedForm>
  );
}
