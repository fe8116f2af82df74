'use client';

import type { SessionDescription } from '@/lib/core/intake/proposal/session-proposal';
import styles from './describe.module.css';
import { Choose, Write } from './labelled';

type SessionPanelProps = Readonly<{
  description: SessionDescription;
  onChange: (description: SessionDescription) => void;
}>;

const KINDS = [
  { value: 'flight', label: 'a flight' },
  { value: 'simulation', label: 'a simulator run' },
];

/** What the session as a whole is: title, kind, the instant of session time 0. */
export function SessionPanel({ description, onChange }: SessionPanelProps) {
  return (
    <section className="panel" aria-label="The session">
      <h2>The session</h2>
      <div className={styles.fields}>
        <Write
          label="Title"
          value={description.title}
          onChange={(title) => onChange({ ...description, title })}
        />
        <Choose
          label="Kind"
          value={description.kind}
          choices={KINDS}
          onChange={(kind) =>
            onChange({ ...description, kind: kind === 'simulation' ? kind : 'flight' })
          }
        />
        <Write
          label="Session time 0, UTC"
          value={description.zero}
          placeholder="2031-03-02T10:00:00Z"
          onChange={(zero) => onChange({ ...description, zero })}
        />
      </div>
    </section>
  );
}
