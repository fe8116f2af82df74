'use client';

import Link from 'next/link';
import { useRouter } from 'next/navigation';
import { type RefObject, useState } from 'react';
import type { DocumentCheck } from '@/lib/core/debrief/check-document';
import { publishDraft } from '../actions';
import { CheckList } from './check-list';
import styles from './debrief.module.css';

type PublishDialogProps = Readonly<{
  dialog: RefObject<HTMLDialogElement | null>;
  sessionId: string;
  label: string;
  title: string;
  onTitle: (title: string) => void;
  /** Null while the draft is being saved and looked through. */
  ready: Readonly<{ version: number; checks: readonly DocumentCheck[] }> | null;
  flush: () => Promise<number | null>;
}>;

/** What is about to be frozen, what to look at first, and the one button that does it. */
export function PublishDialog(props: PublishDialogProps) {
  const { dialog, sessionId, label, title, onTitle, ready, flush } = props;
  const router = useRouter();
  const [isPublishing, setPublishing] = useState(false);
  const [fault, setFault] = useState('');
  const stops = ready?.checks.some((check) => check.gravity === 'stops') ?? true;
  const publish = async () => {
    setPublishing(true);
    setFault('');
    const version = await flush();
    const result =
      version === null
        ? null
        : await publishDraft(sessionId, { version, title: title.trim() }).catch(() => null);
    setPublishing(false);
    if (result === null) setFault('The server could not be reached; nothing was published.');
    else if (!result.ok) setFault(result.message);
    else router.push(`/published/${result.data.number}/${result.data.revision}`);
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
        {ready === null ? (
          <p role="status">The draft is being saved and looked through…</p>
        ) : (
          <CheckList checks={ready.checks} />
        )}
        <p className="soft">
          Publishing freezes every number, figure and word under a number and a SHA-256. What is
          published never changes and cannot be taken back; a revision supersedes it. All of them
          are under <Link href="/published">Published</Link>.
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
            disabled={isPublishing || stops || title.trim() === ''}
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
