'use client';

import type { DocNode } from '@/lib/core/debrief/document';
import { changedParts, valuesInChanges } from '@/lib/view/debrief/settle';
import styles from './debrief.module.css';
import { useLiveWords } from './use-live-words';

type ChangedPartListProps = Readonly<{
  sessionId: string;
  before: DocNode;
  after: DocNode;
  /** What the two texts are called. */
  labels: readonly [before: string, after: string];
}>;

/** Each part that differs between two texts, both side by side with their live values. */
export function ChangedPartList({ sessionId, before, after, labels }: ChangedPartListProps) {
  const views = useLiveWords(sessionId, valuesInChanges(before, after));
  const parts = changedParts(before, after, views);
  if (parts.length === 0) return <p>The two texts are the same.</p>;
  return (
    <ul className={styles.parts}>
      {parts.map((part) => (
        <li key={part.id}>
          {part.section !== '' && <p className="soft">Under “{part.section}”</p>}
          <dl className={styles.conflict}>
            {(['before', 'after'] as const).map((side, index) => (
              <div key={side} className={styles.side}>
                <dt className="soft">{labels[index]}</dt>
                <dd className={styles.words}>{part[side] ?? '(not there)'}</dd>
              </div>
            ))}
          </dl>
        </li>
      ))}
    </ul>
  );
}
