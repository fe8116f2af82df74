'use client';

import { useRouter } from 'next/navigation';
import { type ChangeEvent, useState } from 'react';
import { forgetUpload, sendFiles } from '@/app/import/_components/send-files';
import { replaceFileAction } from '../actions';
import styles from './source-panel.module.css';

/** The session as the page saw it; a change since then refuses the replacement. */
export type ReplacedIn = Readonly<{ id: string; version: number }>;

type ReplaceFileProps = Readonly<{ file: string; session: ReplacedIn; asked?: 'replace' | 'add' }>;

/** Takes a better version of a file; what it changes is listed before anything else is done. */
export function ReplaceFile({ file, session, asked = 'replace' }: ReplaceFileProps) {
  const router = useRouter();
  const [said, setSaid] = useState<string | null>(null);
  const [isSending, setIsSending] = useState(false);

  async function send(chosen: File): Promise<string | null> {
    const sent = await sendFiles([{ name: chosen.name, file: chosen }], {
      onProgress: () => setSaid(`Sending ${chosen.name}`),
      signal: new AbortController().signal,
    });
    if (!sent.ok) return sent.message;
    const { uploadId } = sent;
    const { id: sessionId, version } = session;
    const started = await replaceFileAction({ sessionId, version, file, uploadId });
    if (started.ok) {
      router.push(`/import/${started.data.jobId}`);
      return null;
    }
    await forgetUpload(uploadId);
    return started.message;
  }

  async function choose(event: ChangeEvent<HTMLInputElement>): Promise<void> {
    const chosen = event.target.files?.[0];
    event.target.value = '';
    if (chosen === undefined) return;
    setIsSending(true);
    const problem = await send(chosen).catch(
      () => 'The server did not answer; nothing was changed.',
    );
    setIsSending(false);
    setSaid(problem);
  }

  return (
    <details className={`${styles.replace} no-print`}>
      <summary>
        {asked === 'add' ? 'Add' : 'Replace'} <code>{file}</code>
        {asked === 'add' ? ', now that it is there' : ' by a better version'}
      </summary>
      <p className="panel-note">
        The whole session is read and computed again with it. Findings, drafts and published
        debriefs stay as they are; every figure that changes is listed, with the published sentences
        that quote it. The version before is kept.
      </p>
      <label className="button" aria-disabled={isSending}>
        Choose the new file
        <input
          className="visually-hidden"
          type="file"
          disabled={isSending}
          onChange={(event) => void choose(event)}
        />
      </label>
      <p className="beyond" role="alert">
        {said}
      </p>
    </details>
  );
}
