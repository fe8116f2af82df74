'use client';

import Link from 'next/link';
import { useRouter } from 'next/navigation';
import { type RefObject, useState } from 'react';
import { publishFailureText, serverFailure } from '@/lib/view/debrief/server-failure';
import { publishDraft } from '../actions';
import { ApprovalPanel } from './approval-panel';
import { CheckList } from './check-list';
import styles from './debrief.module.css';
import { NotReady } from './not-ready';
import type { Draft, SaveState } from './use-autosave';
import type { Ready } from './use-ready-check';

type PublishDialogProps = Readonly<{
  dialog: RefObject<HTMLDialogElement | null>;
  sessionId: string;
  label: string;
  /** True where it supersedes a revision, which needs a reason. */
  isRevision: boolean;
  title: string;
  onTitle: (title: string) => void;
  /** Where it is null, `state` says why. */
  ready: Ready;
  state: SaveState;
  flush: () => Promise<number | null>;
  look: () => Promise<boolean>;
  onAgain: () => void;
  onShow: (newer: Draft) => void;
  onShowChoice: () => void;
}>;

/** What is about to be frozen, what to look at first, and the one button that does it. */
export function PublishDialog(props: PublishDialogProps) {
  const { dialog, sessionId, label, isRevision, title, onTitle, ready, flush, look, onAgain } =
    props;
  const router = useRouter();
  const [isPublishing, setPublishing] = useState(false);
  const [fault, setFault] = useState('');
  const [reason, setReason] = useState('');
  const isReady = ready !== null && ready !== 'looking';
  const stops =
    !isReady ||
    ready.approvals.missing !== null ||
    ready.checks.some((check) => check.gravity === 'stops');
  const lacksReason = isRevision && reason.trim() === '';
  const publish = async () => {
    setPublishing(true);
    setFault('');
    const version = await flush();
    // The text changed and could not be saved: the dialog says why in place of the list.
    if (version === null) {
      setPublishing(false);
      return onAgain();
    }
    const seen = { version, title: title.trim(), reason: reason.trim() };
    const result = await publishDraft(sessionId, seen).catch(serverFailure);
    setPublishing(false);
    if (result === 'not reached' || result === 'at fault') setFault(publishFailureText(result));
    else if (result.ok) router.push(`/published/${result.data.number}/${result.data.revision}`);
    else if (result.code === 'changed-meanwhile' && !(await look())) onAgain();
    else setFault(result.message);
  };
  const lookAgain = (why: string) => {
    setFault(why);
    onAgain();
  };
  return (
    <dialog ref={dialog} className={styles.dialog} aria-label={label}>
      <div className="stack">
        <h2>{label}</h2>
        <label className={styles.stacked}>
          Title
          <input
            type="text"
            value={title}
            maxLength={200}
            onChange={(event) => onTitle(event.target.value)}
          />
        </label>
        {isRevision && (
          <label className={styles.stacked}>
            Reason for this revision
            <textarea
              value={reason}
              rows={2}
              maxLength={500}
              onChange={(event) => setReason(event.target.value)}
            />
          </label>
        )}
        {ready === 'looking' && <p role="status">The draft is being saved and looked through…</p>}
        {ready === null && <NotReady {...props} />}
        {isReady && <CheckList checks={ready.checks} />}
        {isReady && (
          <ApprovalPanel sessionId={sessionId} view={ready.approvals} onChanged={lookAgain} />
        )}
        <p className="soft">
          Publishing freezes every number, figure and word under a number and a SHA-256. What is
          published never changes; a revision supersedes it, or it is withdrawn with a reason and
          stays readable. All of them are under <Link href="/published">Published</Link>.
        </p>
        {fault !== '' && (
          <p className="beyond" role="alert">
            {fault}
          </p>
        )}
        <div className="row">
          <button
            type="button"
            className="button primary"
            disabled={isPublishing || stops || title.trim() === '' || lacksReason}
            onClick={publish}
          >
            {isPublishing ? 'Publishing…' : label}
          </button>
          <button type="button" className="button" onClick={() => dialog.current?.close()}>
            Not yet
          </button>
        </div>
      </div>
    </dialog>
  );
}
