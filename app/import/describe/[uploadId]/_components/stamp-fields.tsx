'use client';

import type { DescribedStamping } from '@/lib/core/intake/proposal/stamp-meaning';
import { AVAILABLE_CHOICES, describedStampText, STAMP_CHOICES } from '@/lib/view/describe-view';
import styles from './describe.module.css';
import { Choose, Write } from './labelled';

type StampFieldsProps = Readonly<{
  stamping: DescribedStamping;
  /** Why a meaning is proposed; null where none is. */
  reason: string | null;
  onChange: (stamping: DescribedStamping) => void;
}>;

/** What the stamps of a file mean, how long its rows were on their way, and when it was there. */
export function StampFields({ stamping, reason, onChange }: StampFieldsProps) {
  const { stamp, latency, available } = stamping;
  return (
    <details>
      <summary>Stamps and arrival: {describedStampText(stamping)}</summary>
      <div className={`stack ${styles.more}`}>
        <div className={styles.fields}>
          <Choose
            label="A stamp is the moment when it was"
            value={stamp ?? ''}
            choices={STAMP_CHOICES}
            onChange={(value) => {
              const known = STAMP_CHOICES.find((choice) => choice.value === value)?.value ?? '';
              onChange({ ...stamping, stamp: known === '' ? null : known });
            }}
          />
          <Write
            label="On its way until received, s"
            value={latency}
            need="optional"
            placeholder="not said"
            onChange={(typed) => onChange({ ...stamping, latency: typed })}
          />
          <Choose
            label="It was there"
            value={available ?? ''}
            choices={AVAILABLE_CHOICES}
            onChange={(value) => {
              const known = AVAILABLE_CHOICES.find((choice) => choice.value === value)?.value ?? '';
              onChange({ ...stamping, available: known === '' ? null : known });
            }}
          />
        </div>
        {reason !== null && <p className="soft">{reason}.</p>}
        <p className="soft">
          What was known at a poll goes by this. What is not said is taken as measured at the stamp
          and there at once.
        </p>
      </div>
    </details>
  );
}
