'use client';

import { useRouter } from 'next/navigation';
import { type ChangeEvent, useCallback, useEffect, useRef, useState } from 'react';
import { formatBytes } from '@/lib/view/format-number';
import { startImportAction } from '../actions';
import { filesOfDrop, filesOfPicker, type NamedFile, withoutHidden } from './collect-files';
import styles from './import-drop.module.css';
import { forgetUpload, type SendProgress, sendFiles } from './send-files';
import { useLeaveWarning } from './use-leave-warning';

/** Takes a session folder, a .zip or loose files, dropped anywhere on the page or picked. */
export function ImportDrop() {
  const router = useRouter();
  const [progress, setProgress] = useState<SendProgress | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const [isOver, setIsOver] = useState(false);
  const sending = useRef<AbortController | null>(null);
  useLeaveWarning(
    progress !== null,
    useCallback(() => sending.current?.abort(), []),
  );

  async function start(files: readonly NamedFile[]): Promise<void> {
    if (sending.current !== null) return;
    const wanted = withoutHidden(files);
    if (wanted.length === 0) return setProblem('There was no file in it.');
    const controller = new AbortController();
    sending.current = controller;
    setProblem(null);
    try {
      const sent = await sendFiles(wanted, { onProgress: setProgress, signal: controller.signal });
      if (!sent.ok) return setProblem(sent.message);
      const started = await startImportAction(sent.uploadId);
      if (started.ok) return router.push(`/import/${started.data.jobId}`);
      await forgetUpload(sent.uploadId);
      setProblem(started.message);
    } catch {
      setProblem('The server did not answer. Is it still running? Nothing was kept.');
    } finally {
      sending.current = null;
      setProgress(null);
    }
  }

  const startRef = useRef(start);
  startRef.current = start;
  useEffect(() => {
    const hasFiles = (event: DragEvent) => event.dataTransfer?.types.includes('Files') ?? false;
    const over = (event: DragEvent): void => {
      if (!hasFiles(event)) return;
      event.preventDefault();
      setIsOver(true);
    };
    const leave = (event: DragEvent): void => {
      if (event.relatedTarget === null) setIsOver(false);
    };
    const drop = (event: DragEvent): void => {
      if (!hasFiles(event) || event.dataTransfer === null) return;
      event.preventDefault();
      setIsOver(false);
      filesOfDrop(event.dataTransfer).then(
        (files) => startRef.current(files),
        () => setProblem('What was dropped could not be read.'),
      );
    };
    window.addEventListener('dragover', over);
    window.addEventListener('dragleave', leave);
    window.addEventListener('drop', drop);
    return () => {
      window.removeEventListener('dragover', over);
      window.removeEventListener('dragleave', leave);
      window.removeEventListener('drop', drop);
    };
  }, []);

  return (
    <section className={`${styles.drop} no-print`} data-over={isOver} aria-label="Import a session">
      {progress === null ? (
        <Choose onFiles={start} />
      ) : (
        <Sending progress={progress} onCancel={() => sending.current?.abort()} />
      )}
      <p className={styles.problem} role="alert">
        {problem}
      </p>
    </section>
  );
}

type ChooseProps = Readonly<{ onFiles: (files: readonly NamedFile[]) => void }>;

function Choose({ onFiles }: ChooseProps) {
  const picked = (event: ChangeEvent<HTMLInputElement>): void => {
    const { files } = event.target;
    if (files !== null && files.length > 0) onFiles(filesOfPicker(files));
    event.target.value = '';
  };
  return (
    <div className={styles.choose}>
      <p>
        <strong>Import a session:</strong> drop its folder, a .zip of it or its loose files anywhere
        on this page.
      </p>
      <div className="row">
        <label className="button">
          Choose a folder
          {/* Chromium, Firefox and Safari all know the attribute; React's types do not. */}
          <input
            className={styles.input}
            type="file"
            {...{ webkitdirectory: '' }}
            onChange={picked}
          />
        </label>
        <label className="button">
          Choose files or a .zip
          <input className={styles.input} type="file" multiple onChange={picked} />
        </label>
      </div>
    </div>
  );
}

type SendingProps = Readonly<{ progress: SendProgress; onCancel: () => void }>;

function Sending({ progress, onCancel }: SendingProps) {
  const { file, bytesDone, bytesTotal } = progress;
  return (
    <div className={styles.choose}>
      <div className={styles.sending} role="status">
        <p>
          Sending {file}, {formatBytes(bytesDone)} of {formatBytes(bytesTotal)}
        </p>
        <progress
          value={bytesTotal === 0 ? 0 : bytesDone / bytesTotal}
          aria-label="Part of the files sent"
        />
      </div>
      <button className="button" type="button" onClick={onCancel}>
        Cancel
      </button>
    </div>
  );
}
