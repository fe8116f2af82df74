'use client';

import Link from 'next/link';
import { useId, useState } from 'react';
import field from '@/app/_components/form/field.module.css';
import { submittedWords } from '@/app/_components/form/submitted-words';
import { putInUseAction } from '@/app/plans/actions';
import type { VersionedKind } from '@/lib/core/session/file-identity';
import { refusedUse, type UseRow } from '@/lib/view/plans/register-view';
import styles from './use-form.module.css';

type UseFormProps = Readonly<{
  kind: VersionedKind;
  row: UseRow;
  versions: readonly Readonly<{ id: string; number: number }>[];
}>;

const NO_ANSWER = 'The server does not answer at the moment. Try again.';

/** One session is given another version, with the reason. What was chosen stays where it is refused. */
export function UseForm({ kind, row, versions }: UseFormProps) {
  const id = useId();
  const [state, setState] = useState<Readonly<{ words: string; bad: boolean }> | null>(null);
  const [isBusy, setBusy] = useState(false);
  const [keptCount, setKept] = useState(0);
  if (versions.length === 0) return <span className="soft">there is no other version</span>;

  async function put(form: FormData): Promise<void> {
    setBusy(true);
    const result = await putInUseAction({
      sessionId: row.sessionId,
      version: row.version,
      kind,
      versionId: String(form.get('versionId') ?? ''),
      reason: String(form.get('reason') ?? ''),
    }).catch(() => null);
    setBusy(false);
    if (result?.ok === true) {
      setState({ words: 'In use; the session is being computed again.', bad: false });
      setKept((count) => count + 1);
    } else setState({ words: result === null ? NO_ANSWER : refusedUse(result), bad: true });
  }

  return (
    <form key={keptCount} onSubmit={submittedWords(put)} className={styles.form}>
      <label className="visually-hidden" htmlFor={`${id}-version`}>
        Version for {row.title}
      </label>
      <select id={`${id}-version`} name="versionId" className={field.input}>
        {versions.map((version) => (
          <option key={version.id} value={version.id}>
            version {version.number}
          </option>
        ))}
      </select>
      <label className="visually-hidden" htmlFor={`${id}-reason`}>
        Reason
      </label>
      <input id={`${id}-reason`} name="reason" className={field.input} placeholder="Reason" />
      <button className="button" type="submit" disabled={isBusy}>
        {isBusy ? 'Putting in use' : 'Use this version'}
      </button>
      <p className={state?.bad === true ? 'beyond' : 'soft'} role="status">
        {state?.words}{' '}
        {state?.bad === false && <Link href={`${row.href}/sources/changes`}>See what changed</Link>}
      </p>
    </form>
  );
}
