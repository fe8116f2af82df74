'use client';

import { type RefObject, useState } from 'react';
import { conflictsOf, type Side, valuesInChanges } from '@/lib/view/debrief/settle';
import styles from './debrief.module.css';
import type { Conflicted } from './use-autosave';
import { useLiveWords } from './use-live-words';

type ConflictPanelProps = Readonly<{
  sessionId: string;
  conflict: Conflicted;
  /** Takes the focus when somebody asks for the choice from further down. */
  heading: RefObject<HTMLHeadingElement | null>;
  onChoose: (sides: Readonly<Record<string, Side>>) => void;
}>;

const SIDES: readonly (readonly [side: Side, label: string])[] = [
  ['mine', 'Yours'],
  ['theirs', 'Saved by somebody else'],
];

/** Both texts of each block that two people changed, side by side with their live values. */
export function ConflictPanel({ sessionId, conflict, heading, onChoose }: ConflictPanelProps) {
  const { base, mine, theirs } = conflict;
  const [chosen, setChosen] = useState<Readonly<Record<string, Side>>>({});
  const views = useLiveWords(sessionId, valuesInChanges(theirs.body, mine.body));
  const conflicts = conflictsOf(base, theirs.body, mine.body, views);
  const isReady = conflicts.every(({ id }) => chosen[id] !== undefined);
  return (
    <section className="panel stack" aria-label="Changed elsewhere">
      <h2 ref={heading} tabIndex={-1}>
        Somebody changed the same part
      </h2>
      <p>
        Everything else has been put together. Choose which text stands in each of these places.
        Theirs is saved and stays among the earlier versions; of yours only what you choose is
        saved.
      </p>
      {conflicts.map((each) => (
        <fieldset key={each.id} className={styles.choice}>
          <legend className="soft">
            {each.section === '' ? 'One part of the text' : `Under “${each.section}”`}
          </legend>
          <div className={styles.conflict}>
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
          </div>
        </fieldset>
      ))}
      <div className="row">
        <button
          type="button"
          className="button primary"
          disabled={!isReady}
          onClick={() => onChoose(chosen)}
        >
          Go on with this
        </button>
      </div>
    </section>
  );
}
