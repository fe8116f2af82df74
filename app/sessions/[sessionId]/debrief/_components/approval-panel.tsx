'use client';

import { FoldedForm, type Sent } from '@/app/_components/form/folded-form';
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

type Answer = Readonly<{ ok: true }> | Readonly<{ ok: false; code: string; message: string }>;

/** Looks again where the answer has changed what is shown; what is left is a fault of the form. */
function settled(answer: Answer, onChanged: ApprovalPanelProps['onChanged']): Sent {
  if (answer.ok) onChanged('');
  else if (MEANWHILE.has(answer.code)) onChanged(answer.message);
  else return answer;
  return { ok: true };
}

const wordOf = (form: FormData, name: string): string => String(form.get(name) ?? '');

function NameField({ label }: Readonly<{ label: string }>) {
  return (
    <label className={styles.stacked}>
      {label}
      <input type="text" name="name" maxLength={80} autoComplete="name" required />
    </label>
  );
}

function ApproveForm({ sessionId, view, onChanged }: ApprovalPanelProps) {
  const { version, contentSha256, roles } = view;
  const approve = async (form: FormData) => {
    const given = { role: wordOf(form, 'role'), name: wordOf(form, 'name') };
    const answer = await approveDraft(sessionId, { version, contentSha256, ...given });
    return settled(answer, onChanged);
  };
  return (
    <FoldedForm summary="Approve it as it stands" submit="Approve" busy="Approving…" send={approve}>
      <p className="soft">
        You approve version {version}: title, text, numbers, figures and their evidence, under the
        SHA-256 <code className={styles.hash}>{contentSha256}</code>. A change withdraws the
        approval. There are no accounts: the record says that role and name were stated and that no
        account proved them.
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
        <NameField label="Name" />
      </div>
      <datalist id="approval-roles">
        {roles.map((role) => (
          <option key={role} value={role} />
        ))}
      </datalist>
    </FoldedForm>
  );
}

type StandingProps = Readonly<{ line: ApprovalLine; onChanged: ApprovalPanelProps['onChanged'] }>;

function StandingApproval({ line, onChanged }: StandingProps) {
  const withdraw = async (form: FormData) => {
    const said = { name: wordOf(form, 'name'), reason: wordOf(form, 'reason') };
    return settled(await takeBackApproval({ id: line.id, ...said }), onChanged);
  };
  return (
    <div className={styles.approval}>
      <p>{line.text}</p>
      <FoldedForm
        summary="Withdraw"
        submit="Withdraw the approval"
        busy="Withdrawing…"
        send={withdraw}
      >
        <div className={styles.pair}>
          <NameField label="Your name" />
          <label className={styles.stacked}>
            Reason, if there is one to give
            <input type="text" name="reason" maxLength={500} />
          </label>
        </div>
      </FoldedForm>
    </div>
  );
}
