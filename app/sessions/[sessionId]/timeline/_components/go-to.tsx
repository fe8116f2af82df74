'use client';

import type { EntryPlace } from '@/lib/view/timeline-time-entry';
import { focusCursor } from './cursor-focus';
import { TimeField } from './time-field';
import styles from './toolbar.module.css';

type GoToProps = Readonly<{ place: EntryPlace; goTo: (tS: number) => void }>;

/** Type a time to go there: session time, or a clock's as on the recorder's own paper. */
export function GoTo({ place, goTo }: GoToProps) {
  return (
    <div className={styles.goTo}>
      <TimeField
        id="timeline-go-to"
        label="Go to"
        place={place}
        valueS={null}
        onLeaving="keep"
        onChange={(tS) => {
          goTo(tS);
          focusCursor();
        }}
      />
    </div>
  );
}
