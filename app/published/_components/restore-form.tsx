'use client';

import { useState, useTransition } from 'react';
import { submittedWords } from '@/app/_components/form/submitted-words';
import { restoreAction } from '../actions';
import styles from './published.module.css';

type RestoreFormProps = Readonly<{
  place: Readonly<{ number: number; revision: number }>;
  /** When the withdrawal that is looked at was made. */
  withdrawnAtIso: string;
}>;

/** Takes back the withdrawal of this revision, with the reason. */
export function RestoreForm({ place, withdrawnAtIso }: RestoreFormProps) {
  const [fault, setFault] = useState('');
  const [isSaving, startSaving] = useTransition();
  const save = (form: FormData) =>
    startSaving(async () => {
      const reason = String(form.get('reason') ?? '');
      const result = await restoreAction({ ...place, withdrawnAtIso }, reason).catch(() => null);
      const fault = result === null ? 'The server does not answer at the moment.' : '';
      setFault(result === null || result.ok ? fault : result.message);
    });
  return (
    <details className={`no-print ${styles.more}`}>
      <summary>Take the withdrawal back</summary>
      <form onSubmit={submittedWords(save)} className="stack">
        <p>
          For a withdrawal made by mistake. The revision counts again; that it was withdrawn, and
          why that was taken back, stays on its page.
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
            {isSaving ? 'Taking back\u2026' : 'Take it back'}
          </button>
        </div>
      </form>
    </details>
  );
}
