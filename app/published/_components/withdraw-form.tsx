'use client';

import { useState, useTransition } from 'react';
import { submittedWords } from '@/app/_components/form/submitted-words';
import { withdrawAction } from '../actions';
import styles from './published.module.css';

type WithdrawFormProps = Readonly<{ place: Readonly<{ number: number; revision: number }> }>;

/** Withdraws this revision, with the reason; every file of it stays. */
export function WithdrawForm({ place }: WithdrawFormProps) {
  const [fault, setFault] = useState('');
  const [isSaving, startSaving] = useTransition();
  const save = (form: FormData) =>
    startSaving(async () => {
      const reason = String(form.get('reason') ?? '');
      const result = await withdrawAction(place, reason).catch(() => null);
      const fault = result === null ? 'The server does not answer at the moment.' : '';
      setFault(result === null || result.ok ? fault : result.message);
    });
  return (
    <details className={`no-print ${styles.more}`}>
      <summary>Withdraw this revision</summary>
      <form onSubmit={submittedWords(save)} className="stack">
        <p>
          It stays readable and so do its files; page and register say that it was withdrawn, by
          whom and why. It can be taken back with a reason; both acts stay on record.
        </p>
        <label>
          Reason
          <textarea name="reason" rows={2} maxLength={500} required />
        </label>
        {fault !== '' && (
          <p className="beyond" role="alert">
            {fault}
          </p>
        )}
        <div className="row">
          <button type="submit" className="button" disabled={isSaving}>
            {isSaving ? 'Withdrawing\u2026' : 'Withdraw it'}
          </button>
        </div>
      </form>
    </details>
  );
}
