'use client';

import { useState, useTransition } from 'react';
import { submittedWords } from '@/app/_components/form/submitted-words';
import type { ApprovalLine, ApprovalsView } from '@/lib/view/debrief/approvals-view';
import { approveDraft, takeBackApproval } from '../actions';
import styles from './debrief.module.css';

type ApprovalPanelProps = Readonly<{
  sessionId: string;
  view: ApprovalsView;
  /** Looks at the draft and its approvals again; `fault` says why what was asked could not be done. */
  onChanged: (fault: string) => void;
}>;

/** Refusals after which what is shown is no longer what is there. */
const MEANWHILE = new Set(['changed-meanwhile', 'withdrawn-already', 'published-already']);
const NO_ANSWER = 'The server does not answer at the moment.';

/** Who has approved the draft as it stands, what is missing, and the form to approve it. */
export function ApprovalPanel({ sessionId, view, onChanged }: ApprovalPanelProps) {
  const { standing, past, required, missing } = view;
  return (
    <section className={`stack ${styles.approvals}`} aria-label="Approvals">
      <h3>Approvals</h3>
      {required.length > 0 && (
        <ul>
          {required.map(({ role, given }) => (
            <li key={role}>
              {role}:{' '}
              <strong className={given === null ? 'beyond' : 'inside'}>
                {given === null ? 'missing' : `approved by ${given}`}
              </strong>
            </li>
          ))}
        </ul>
      )}
      {missing !== null && <p className="beyond">{missing} Until then nothing is published.</p>}
      {standing.length === 0 && required.length === 0 && (
        <p className="soft">Nobody has approved it. The team requires no approval.</p>
      )}
      {standing.map((line) => (
        <StandingApproval key={line.id} line={line} onChanged={onChanged} />
      ))}
      <ApproveForm sessionId={sessionId} view={view} onChanged={onChanged} />
      {past.length > 0 && (
        <details>
          <summary>Approvals that do not hold ({past.length})</summary>
          <ul>
            {past.map(({ id, text, note }) => (
              <li key={id}>
                {text}. <span className="soft">{note}</span>
              </li>
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}

function ApproveForm({ sessionId, view, onChanged }: ApprovalPanelProps) {
  const [fault, setFault] = useState('');
  const [isSaving, startSaving] = useTransition();
  const { version, contentSha256, roles } = view;
  const approve = (form: FormData) =>
    startSaving(async () => {
      const [role, name] = [String(form.get('role') ?? ''), String(form.get('name') ?? '')];
      const given = { version, contentSha256, role, name };
      const result = await approveDraft(sessionId, given).catch(() => null);
      if (result?.ok === true) onChanged('');
      else if (result !== null && MEANWHILE.has(result.code)) onChanged(result.message);
      else setFault(result?.message ?? NO_ANSWER);
    });
  return (
    <details>
      <summary>Approve it as it stands</summary>
      <form onSubmit={submittedWords(approve)} className="stack">
        <p className="soft">
          You approve version {version}: title, text, numbers, figures and their evidence, under the
          SHA-256 <code className={styles.hash}>{contentSha256}</code>. A change withdraws the
          approval. There are no accounts: the record says that role and name were stated and that
          no account proved them.
        </p>
        <div className={styles.pair}>
          <label className={styles.stacked}>
            Role
            <input
              type="text"
              name="role"
              list="approval-roles"
              defaultValue={view.missing === null ? '' : roles[0]}
              maxLength={80}
              required
            />
          </label>
          <label className={styles.stacked}>
            Name
            <input type="text" name="name" maxLength={80} autoComplete="name" required />
          </label>
        </div>
        <datalist id="approval-roles">
          {roles.map((role) => (
            <option key={role} value={role} />
          ))}
        </datalist>
        <Fault text={fault} />
        <div className="row">
          <button type="submit" className="button" disabled={isSaving}>
            {isSaving ? 'Approving…' : 'Approve'}
          </button>
        </div>
      </form>
    </details>
  );
}

type StandingProps = Readonly<{ line: ApprovalLine; onChanged: ApprovalPanelProps['onChanged'] }>;

function StandingApproval({ line, onChanged }: StandingProps) {
  const [fault, setFault] = useState('');
  const [isSaving, startSaving] = useTransition();
  const withdraw = (form: FormData) =>
    startSaving(async () => {
      const [name, reason] = [String(form.get('name') ?? ''), String(form.get('reason') ?? '')];
      const result = await takeBackApproval({ id: line.id, name, reason }).catch(() => null);
      if (result?.ok === true) onChanged('');
      else if (result !== null && MEANWHILE.has(result.code)) onChanged(result.message);
      else setFault(result?.message ?? NO_ANSWER);
    });
  return (
    <div className={styles.approval}>
      <p>{line.text}</p>
      <details>
        <summary>Withdraw</summary>
        <form onSubmit={submittedWords(withdraw)} className="stack">
          <div className={styles.pair}>
            <label className={styles.stacked}>
              Your name
              <input type="text" name="name" maxLength={80} autoComplete="name" required />
            </label>
            <label className={styles.stacked}>
              Reason, if there is one to give
              <input type="text" name="reason" maxLength={500} />
            </label>
          </div>
          <Fault text={fault} />
          <div className="row">
            <button type="submit" className="button" disabled={isSaving}>
              {isSaving ? 'Withdrawing…' : 'Withdraw the approval'}
            </button>
          </div>
        </form>
      </details>
    </div>
  );
}

function Fault({ text }: Readonly<{ text: string }>) {
  if (text === '') return null;
  return (
    <p className="beyond" role="alert">
      {text}
    </p>
  );
}
