'use client';

import { useRouter } from 'next/navigation';
import { useState } from 'react';
import { Field } from '@/app/_components/form/field';
import { submittedWords } from '@/app/_components/form/submitted-words';
import type { VersionedKind } from '@/lib/core/session/file-identity';
import { stampText } from '@/lib/view/format-date';
import { entryHref } from '@/lib/view/plans/register-view';
import { saveVersionAction } from '../actions';
import { type NewerVersion, newerVersion } from './newer-version';
import type { Draft } from './use-draft';
import styles from './version-editor.module.css';

type SavePanelProps = Readonly<{
  kind: VersionedKind;
  entryId: string | null;
  draft: Draft;
  isValid: boolean;
  isChanged: boolean;
  /** What a new version asks for otherwise than the one before. */
  told: readonly string[];
}>;

/** Saves the draft as a new version; one that somebody saved meanwhile is told, never passed over. */
export function SavePanel({ kind, entryId, draft, isValid, isChanged, told }: SavePanelProps) {
  const router = useRouter();
  const [problem, setProblem] = useState<string | null>(null);
  const [newer, setNewer] = useState<NewerVersion | null>(null);
  const [isBusy, setBusy] = useState(false);
  const { baseNumber, history } = draft;
  const number = baseNumber + 1;

  async function save(form: FormData): Promise<void> {
    setBusy(true);
    setProblem(null);
    const reason = String(form.get('reason') ?? '');
    const asked = { kind, entryId, version: baseNumber, text: history.text, reason };
    const result = await saveVersionAction(asked).catch(() => null);
    setBusy(false);
    if (result === null)
      setProblem('The server does not answer at the moment. Your draft is kept.');
    else if (result.ok) {
      draft.forget();
      router.push(entryHref(kind, result.data.entryId));
    } else {
      const meanwhile = result.code === 'changed-meanwhile' ? newerVersion(result.newer) : null;
      setNewer(meanwhile);
      setProblem(meanwhile === null ? result.message : null);
    }
  }

  return (
    <section className="panel stack no-print" aria-label="Save">
      <h2>Save as version {number}</h2>
      {newer !== null && entryId !== null && (
        <div className="stack" role="alert">
          <p className="beyond">
            {newer.author} saved version {newer.number} on {stampText(newer.atIso)} meanwhile:{' '}
            {newer.reason}. Your draft is kept; nothing was saved.
          </p>
          <div className="row">
            <a
              className="button"
              target="_blank"
              rel="noreferrer"
              href={`${entryHref(kind, entryId)}/compare?from=${baseNumber}&to=${newer.number}`}
            >
              See what it changed
            </a>
            <button
              type="button"
              className="button"
              onClick={() => {
                draft.rebase(newer.number);
                setNewer(null);
              }}
            >
              Go on with mine, to be saved as version {newer.number + 1}
            </button>
          </div>
        </div>
      )}
      <div role="status">
        {told.length > 0 && (
          <p className="unsure">
            {told.join(' ')} Drafts that were begun by an earlier version keep to that one.
          </p>
        )}
      </div>
      <form onSubmit={submittedWords(save)} className={styles.save}>
        <Field label="Reason" name="reason" value="" />
        <button
          className="button primary"
          type="submit"
          disabled={!isValid || !isChanged || isBusy || newer !== null}
        >
          {isBusy ? 'Saving' : 'Save this version'}
        </button>
      </form>
      <p
        className={problem === null ? 'soft' : 'beyond'}
        role={problem === null ? 'status' : 'alert'}
      >
        {problem ??
          (isChanged
            ? kind === 'template'
              ? 'Debriefs that are drafted from now on can take it; those that are there keep theirs.'
              : 'Sessions keep the version they use until somebody puts this one in use.'
            : 'Nothing is changed yet.')}
      </p>
    </section>
  );
}
