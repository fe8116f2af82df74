'use client';

import { useState } from 'react';
import { conflictsOf, type Side, settle } from '@/lib/view/debrief/settle';
import styles from './debrief.module.css';
import type { Draft, SaveState } from './use-autosave';

type ConflictPanelProps = Readonly<{
  conflict: Extract<SaveState, { kind: 'conflict' }>;
  onSettle: (draft: Draft) => void;
}>;

const SIDES: readonly (readonly [side: Side, label: string])[] = [
  ['mine', 'Yours'],
  ['theirs', 'Saved by somebody else'],
];

/** Both texts of each block that two people changed, side by side. */
export function ConflictPanel({ conflict, onSettle }: ConflictPanelProps) {
  const { base, mine, theirs } = conflict;
  const [chosen, setChosen] = useState<Readonly<Record<string, Side>>>({});
  const conflicts = conflictsOf(base, theirs.body, mine.body);
  const isReady = conflicts.every(({ id }) => chosen[id] !== undefined);
  return (
    <section className="panel stack" aria-label="Changed elsewhere">
      <h2>Somebody changed the same part</h2>
      <p>
        Everything else has been put together. Choose which text stands in each of these places; the
        other one stays among the earlier versions.
      </p>
      {conflicts.map((each) => (
        <fieldset key={each.id} className={styles.conflict}>
          <legend className="visually-hidden">One part of the text</legend>
          {SIDES.map(([side, label]) => (
            <label key={side} className={styles.side}>
              <span className="row">
                <input
                  type="radio"
                  name={each.id}
                  checked={chosen[each.id] === side}
                  onChange={() => setChosen((before) => ({ ...before, [each.id]: side }))}
                />
                {label}
              </span>
              <span className={styles.words}>{each[side] ?? '(taken out)'}</span>
            </label>
          ))}
        </fieldset>
      ))}
      <div className="row">
        <button
          type="button"
          className="button primary"
          disabled={!isReady}
          onClick={() =>
            onSettle({
              version: theirs.version,
              title: mine.title,
              body: settle(base, theirs.body, mine.body, chosen),
            })
          }
        >
          Go on with this
        </button>
      </div>
    </section>
  );
}
