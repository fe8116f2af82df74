'use client';

import Link from 'next/link';
import { useState, useTransition } from 'react';
import type { TemplateChoice } from '@/lib/view/plans/register-view';
import { writeDraft } from '../actions';

type DraftStartProps = Readonly<{
  sessionId: string;
  canDraft: boolean;
  templates: readonly TemplateChoice[];
}>;

/** One action from nothing to a whole draft. */
export function DraftStart({ sessionId, canDraft, templates }: DraftStartProps) {
  const [isWriting, startWriting] = useTransition();
  const [fault, setFault] = useState('');
  const [templateId, setTemplateId] = useState('');
  const write = () =>
    startWriting(async () => {
      const result = await writeDraft(sessionId, templateId === '' ? null : templateId);
      setFault(result.ok ? '' : result.message);
    });
  return (
    <section className="panel stack">
      <p>
        {canDraft
          ? 'There is no draft yet. One action writes a whole one: purpose, summary in sentences, what was flown, steps, rules and margins, contact, findings, data quality, and what is not known. Then it is yours to edit.'
          : 'This session has no reconstruction yet, so there is nothing to write from. Come back when its import is done.'}
      </p>
      {canDraft && templates.length > 0 && (
        <label className="row">
          Form
          <select value={templateId} onChange={(event) => setTemplateId(event.target.value)}>
            <option value="">the program’s own</option>
            {templates.map(({ id, label }) => (
              <option key={id} value={id}>
                {label}
              </option>
            ))}
          </select>
        </label>
      )}
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
