'use client';

import Link from 'next/link';
import { useState, useTransition } from 'react';
import { writeDraft } from '../actions';

type DraftStartProps = Readonly<{ sessionId: string; canDraft: boolean }>;

/** One action from nothing to a whole draft. */
export function DraftStart({ sessionId, canDraft }: DraftStartProps) {
  const [isWriting, startWriting] = useTransition();
  const [fault, setFault] = useState('');
  const write = () =>
    startWriting(async () => {
      const result = await writeDraft(sessionId);
      setFault(result.ok ? '' : result.message);
    });
  return (
    <section className="panel stack">
      <p>
        {canDraft
          ? 'There is no draft yet. One action writes a whole one: purpose, summary in sentences, what was flown, steps, rules and margins, contact, findings, data quality, and what is not known. Then it is yours to edit.'
          : 'This session has no reconstruction yet, so there is nothing to write from. Come back when its import is done.'}
      </p>
      <div className="row">
        <button
          type="button"
          className="button primary"
          disabled={!canDraft || isWriting}
          onClick={write}
        >
          {isWriting ? 'Writing the draft…' : 'Draft the debrief'}
        </button>
        {canDraft && (
          <Link className="button" href={`/sessions/${encodeURIComponent(sessionId)}/quick-look`}>
            Quick look
          </Link>
        )}
      </div>
      {fault !== '' && (
        <p className="beyond" role="alert">
          {fault}
        </p>
      )}
    </section>
  );
}
