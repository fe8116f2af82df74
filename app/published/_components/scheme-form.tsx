'use client';

import { useState, useTransition } from 'react';
import { submittedWords } from '@/app/_components/form/submitted-words';
import { setSchemeAction } from '../actions';
import styles from './published.module.css';

/** What the next debriefs are called. */
export function SchemeForm({ scheme }: Readonly<{ scheme: string }>) {
  const [said, setSaid] = useState<Readonly<{ text: string; fits: boolean }> | null>(null);
  const [isSaving, startSaving] = useTransition();
  const save = (form: FormData) => {
    const typed = String(form.get('scheme') ?? '');
    startSaving(async () => {
      const result = await setSchemeAction(typed, scheme).catch(() => null);
      setSaid(
        result?.ok === true
          ? { text: 'Kept. It holds for what is published from now on.', fits: true }
          : { text: result?.message ?? 'The server does not answer at the moment.', fits: false },
      );
    });
  };
  return (
    <details className={`panel no-print ${styles.more}`}>
      <summary>How debriefs are numbered</summary>
      <form onSubmit={submittedWords(save)} className="stack">
        <label>
          <span>
            Scheme, with <code>{'{number}'}</code>, <code>{'{number:3}'}</code> for three digits,{' '}
            <code>{'{year}'}</code>
          </span>
          <input type="text" name="scheme" defaultValue={scheme} maxLength={60} />
        </label>
        <div className="row">
          <button type="submit" className="button" disabled={isSaving}>
            {isSaving ? 'Keeping\u2026' : 'Keep the scheme'}
          </button>
          {said !== null && (
            <p className={said.fits ? 'inside' : 'beyond'} role={said.fits ? 'status' : 'alert'}>
              {said.text}
            </p>
          )}
        </div>
      </form>
    </details>
  );
}
