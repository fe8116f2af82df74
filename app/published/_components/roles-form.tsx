'use client';

import { useState, useTransition } from 'react';
import { submittedWords } from '@/app/_components/form/submitted-words';
import { requireRolesAction } from '../actions';
import styles from './published.module.css';

/** Roles without whose approval nothing is published. */
export function RolesForm({ roles }: Readonly<{ roles: readonly string[] }>) {
  const [said, setSaid] = useState<Readonly<{ text: string; fits: boolean }> | null>(null);
  const [isSaving, startSaving] = useTransition();
  const seen = roles.join('\n');
  const save = (form: FormData) => {
    const typed = String(form.get('roles') ?? '');
    startSaving(async () => {
      const result = await requireRolesAction(typed, seen).catch(() => null);
      setSaid(
        result?.ok === true
          ? { text: 'Kept. It holds for what is published from now on.', fits: true }
          : { text: result?.message ?? 'The server does not answer at the moment.', fits: false },
      );
    });
  };
  return (
    <details className={`panel no-print ${styles.more}`}>
      <summary>
        Which approvals are required
        <span className="soft">: {roles.length === 0 ? 'none' : roles.join(', ')}</span>
      </summary>
      <form onSubmit={submittedWords(save)} className="stack">
        <label>
          <span>Roles that must approve a debrief before it is published, one a line</span>
          <textarea name="roles" rows={4} defaultValue={seen} maxLength={2000} />
        </label>
        <p className="soft">
          Empty: no approval is required, and any role may still give one. There are no accounts
          yet: whoever approves states role and name, and the record says so.
        </p>
        <div className="row">
          <button type="submit" className="button" disabled={isSaving}>
            {isSaving ? 'Keeping\u2026' : 'Keep the roles'}
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
