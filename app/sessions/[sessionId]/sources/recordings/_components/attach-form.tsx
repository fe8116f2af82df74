'use client';

import { type ChangeEvent, useCallback, useId, useRef, useState } from 'react';
import { forgetUpload, type SendProgress, sendFiles } from '@/app/import/_components/send-files';
import { useLeaveWarning } from '@/app/import/_components/use-leave-warning';
import { formatBytes } from '@/lib/view/format-number';
import { MEDIA_HEAD_BYTES, mediaKind, mediaRefusal } from '@/lib/view/recordings/media-kind';
import { readMoment } from '@/lib/view/recordings/recording-clock';
import { type EntryPlace, typedTimeHint } from '@/lib/view/timeline-time-entry';
import { attachAction } from '../actions';
import styles from './recordings.module.css';

type AttachFormProps = Readonly<{ sessionId: string; place: EntryPlace }>;

type Ties = readonly (readonly [number, number])[];

const NO_ANSWER = 'The server did not answer. Is it still running? Nothing was kept.';

/** Looked at before anything is sent: a file that cannot be played costs nobody an upload. */
async function refusalOf(file: File): Promise<string | null> {
  const head = new Uint8Array(await file.slice(0, MEDIA_HEAD_BYTES).arrayBuffer());
  return mediaKind(head) === null ? mediaRefusal(file.name, head) : null;
}

/** Takes a recording: its start where that is known, then the file, sent with its progress and a way out. */
export function AttachForm({ sessionId, place }: AttachFormProps) {
  const id = useId();
  const [starts, setStarts] = useState('');
  const [progress, setProgress] = useState<SendProgress | null>(null);
  const [said, setSaid] = useState<string | null>(null);
  const sending = useRef<AbortController | null>(null);
  useLeaveWarning(
    progress !== null,
    useCallback(() => sending.current?.abort(), []),
  );

  async function attach(file: File, ties: Ties): Promise<string | null> {
    const refused = await refusalOf(file);
    if (refused !== null) return refused;
    const controller = new AbortController();
    sending.current = controller;
    const options = { onProgress: setProgress, signal: controller.signal };
    const sent = await sendFiles([{ name: file.name, file }], options);
    if (!sent.ok) return sent.message;
    const problem = await attachAction(sessionId, { uploadId: sent.uploadId, ties });
    if (problem !== null) await forgetUpload(sent.uploadId);
    if (problem === null) setStarts('');
    return problem ?? `${file.name} is attached.`;
  }

  async function choose(event: ChangeEvent<HTMLInputElement>): Promise<void> {
    const file = event.target.files?.[0];
    event.target.value = '';
    if (file === undefined || sending.current !== null) return;
    const read = starts.trim() === '' ? null : readMoment(starts, place);
    if (read !== null && !read.ok) return setSaid(`Its start: ${read.problem}`);
    setSaid(null);
    try {
      setSaid(await attach(file, read === null ? [] : [[0, read.tS]]));
    } catch {
      setSaid(NO_ANSWER);
    } finally {
      sending.current = null;
      setProgress(null);
    }
  }

  return (
    <div className={`${styles.attach} no-print`}>
      <h3>Attach a recording</h3>
      <p className="soft">
        WAV, MP3, MP4 or M4A, Ogg, WebM or FLAC, up to 8 GiB, kept as it is. Whether your browser
        plays what is inside it, the timeline says.
      </p>
      {progress === null ? (
        <div className={styles.choose}>
          <label htmlFor={`${id}-starts`}>
            It starts at ({typedTimeHint(place)}; may be set later)
          </label>
          <input
            id={`${id}-starts`}
            type="text"
            value={starts}
            onChange={(event) => setStarts(event.target.value)}
          />
          <label className="button">
            Choose the file
            <input
              className="visually-hidden"
              type="file"
              onChange={(event) => void choose(event)}
            />
          </label>
        </div>
      ) : (
        <Sending progress={progress} cancel={() => sending.current?.abort()} />
      )}
      <p role="status">{said}</p>
    </div>
  );
}

type SendingProps = Readonly<{ progress: SendProgress; cancel: () => void }>;

function Sending({ progress, cancel }: SendingProps) {
  const { file, bytesDone, bytesTotal } = progress;
  const share = bytesTotal === 0 ? 0 : bytesDone / bytesTotal;
  return (
    <div className={styles.choose}>
      <p>
        {share < 1 ? 'Sending' : 'Keeping'} {file}, {formatBytes(bytesDone)} of{' '}
        {formatBytes(bytesTotal)}
      </p>
      <progress value={share} aria-label="Part of the recording sent" />
      <button className="button" type="button" onClick={cancel}>
        Cancel
      </button>
    </div>
  );
}
