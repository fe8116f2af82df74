'use client';

import { useState } from 'react';
import type { DocNode } from '@/lib/core/debrief/document';
import type { SavedVersion } from '@/lib/view/debrief/saved-version';
import { stampText } from '@/lib/view/format-date';
import { readEarlierVersion, readEarlierVersions } from '../actions';
import { ChangedPartList } from './changed-part-list';
import styles from './debrief.module.css';

type EarlierVersionsProps = Readonly<{
  sessionId: string;
  /** The text as it is in the editor now. */
  current: () => DocNode | undefined;
  onBring: (body: DocNode) => void;
}>;

type Compared = Readonly<{ version: number; then: DocNode; now: DocNode }>;

const FAULT = 'The server gave no answer: try again.';

/** Versions that saving has replaced: each can be held against the text now, and brought back. */
export function EarlierVersions({ sessionId, current, onBring }: EarlierVersionsProps) {
  const [versions, setVersions] = useState<readonly SavedVersion[] | null>(null);
  const [compared, setCompared] = useState<Compared | null>(null);
  const [fault, setFault] = useState('');
  const list = async (isOpen: boolean) => {
    if (!isOpen) return;
    const found = await readEarlierVersions(sessionId).catch(() => null);
    setFault(found === null ? FAULT : '');
    setVersions(found);
  };
  const compare = async (version: number) => {
    const then = await readEarlierVersion(sessionId, version).catch(() => null);
    const now = current();
    setFault(then === null ? 'That version could not be read; it may no longer be kept.' : '');
    setCompared(then === null || now === undefined ? null : { version, then, now });
  };
  return (
    <details className="panel" onToggle={(event) => list(event.currentTarget.open)}>
      <summary>Earlier versions</summary>
      <div className="stack">
        {fault !== '' && (
          <p className="beyond" role="alert">
            {fault}
          </p>
        )}
        {versions?.length === 0 && <p>Nothing has been saved over yet.</p>}
        {compared !== null && (
          <section className="stack" aria-label={`Version ${compared.version}`}>
            <h3>Version {compared.version} beside the text now</h3>
            <ChangedPartList
              sessionId={sessionId}
              before={compared.then}
              after={compared.now}
              labels={[`Version ${compared.version}`, 'Now']}
            />
            <div className="row">
              <button
                type="button"
                className="button primary"
                onClick={() => {
                  onBring(compared.then);
                  setCompared(null);
                }}
              >
                Bring version {compared.version} back
              </button>
              <button type="button" className="button" onClick={() => setCompared(null)}>
                Leave it
              </button>
            </div>
            <p className="soft">
              It is saved as the newest version; what stands now stays among the earlier ones.
            </p>
          </section>
        )}
        {versions !== null && versions.length > 0 && (
          <ol className={styles.versions}>
            {versions.map(({ version, by, atIso }) => (
              <li key={version}>
                <button type="button" className="button" onClick={() => compare(version)}>
                  Version {version}
                </button>{' '}
                <span className="soft">
                  until {by} saved over it on {stampText(atIso)}
                </span>
              </li>
            ))}
          </ol>
        )}
      </div>
    </details>
  );
}
