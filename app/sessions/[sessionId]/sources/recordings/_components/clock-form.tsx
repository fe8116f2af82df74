'use client';

import { type FormEvent, useState, useTransition } from 'react';
import { Field } from '@/app/_components/form/field';
import { readClockTyped } from '@/lib/view/recordings/recording-clock';
import type { RecordingView } from '@/lib/view/recordings/recordings-view';
import { type EntryPlace, typedTimeHint } from '@/lib/view/timeline-time-entry';
import { clockAction } from '../actions';
import styles from './recordings.module.css';

type ClockFormProps = Readonly<{ recording: RecordingView; sessionId: string; place: EntryPlace }>;

type Said = Readonly<{ fields: Readonly<Record<string, string>>; message: string | null }>;

const NOTHING_SAID: Said = { fields: {}, message: null };

/** When the recording ran: one moment gives its start, two that lie apart its drift as well. */
export function ClockForm({ recording, sessionId, place }: ClockFormProps) {
  const [said, setSaid] = useState(NOTHING_SAID);
  const [isSaving, start] = useTransition();
  const { id, version, clocks, name } = recording;
  const save = (event: FormEvent<HTMLFormElement>): void => {
    event.preventDefault();
    const form = new FormData(event.currentTarget);
    const word = (field: string): string => String(form.get(field) ?? '');
    const typed = {
      firstAt: word('firstAt'),
      firstIs: word('firstIs'),
      secondAt: word('secondAt'),
      secondIs: word('secondIs'),
      reason: word('reason'),
    };
    const read = readClockTyped(typed, place);
    if ('fields' in read) {
      setSaid({ fields: read.fields, message: 'Nothing was kept: see beside the fields.' });
      return;
    }
    start(async () => {
      const clock = { id, version, ties: read.ties, reason: typed.reason };
      const refused = await clockAction(sessionId, clock).catch(
        () => 'The server did not answer; nothing was changed.',
      );
      setSaid({ fields: {}, message: refused ?? ['Kept.', ...read.notes].join(' ') });
    });
  };
  return (
    <details className={`${styles.form} no-print`} open={clocks.length === 0}>
      <summary>
        Set its clock<span className="visually-hidden">: {name}</span>
      </summary>
      <form className="stack" onSubmit={save}>
        <div className={styles.pair}>
          <Field
            label="At this time of the recording"
            name="firstAt"
            value={recording.start.firstAt}
            problem={said.fields.firstAt}
          />
          <Field
            label={`the session was at (${typedTimeHint(place)})`}
            name="firstIs"
            value={recording.start.firstIs}
            problem={said.fields.firstIs}
          />
        </div>
        <div className={styles.pair}>
          <Field
            label="A second moment, for the drift (may be left out)"
            name="secondAt"
            value={recording.start.secondAt}
            problem={said.fields.secondAt}
          />
          <Field
            label="the session was at"
            name="secondIs"
            value={recording.start.secondIs}
            problem={said.fields.secondIs}
          />
        </div>
        <Field label="From what this is known" name="reason" value="" />
        <div className={styles.acts}>
          <button className="button" type="submit" disabled={isSaving}>
            {isSaving ? 'Keeping' : 'Keep this clock'}
          </button>
          <span role="status">{said.message}</span>
        </div>
      </form>
    </details>
  );
}
