'use client';

import { type ReactNode, useState, useTransition } from 'react';
import { submittedWords } from './submitted-words';

/** What came of sending a form. */
export type Sent = Readonly<{ ok: true }> | Readonly<{ ok: false; message: string }>;

type FoldedFormProps = Readonly<{
  summary: ReactNode;
  className?: string | undefined;
  /** Words of the button, and while it is being sent. */
  submit: string;
  busy: string;
  /** Said once it was taken; nothing by default, where the page shows it by itself. */
  taken?: string;
  send: (form: FormData) => Promise<Sent>;
  children: ReactNode;
}>;

const NO_ANSWER = 'The server does not answer at the moment.';

/** A form that stays folded until it is asked for, and says what came of sending it. */
export function FoldedForm({
  summary,
  className,
  submit,
  busy,
  taken = '',
  send,
  children,
}: FoldedFormProps) {
  const [said, setSaid] = useState<Readonly<{ text: string; fits: boolean }> | null>(null);
  const [isSaving, startSaving] = useTransition();
  const save = (form: FormData) =>
    startSaving(async () => {
      const sent = await send(form).catch(() => ({ ok: false, message: NO_ANSWER }) as const);
      setSaid(sent.ok ? { text: taken, fits: true } : { text: sent.message, fits: false });
    });
  return (
    <details className={className}>
      <summary>{summary}</summary>
      <form onSubmit={submittedWords(save)} className="stack">
        {children}
        {said !== null && said.text !== '' && (
          <p className={said.fits ? 'inside' : 'beyond'} role={said.fits ? 'status' : 'alert'}>
            {said.text}
          </p>
        )}
        <div className="row">
          <button type="submit" className="button" disabled={isSaving}>
            {isSaving ? busy : submit}
          </button>
        </div>
      </form>
    </details>
  );
}
