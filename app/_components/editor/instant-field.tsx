'use client';

import { useEffect, useId, useState } from 'react';
import { fieldTime, parseSessionTime } from '@/lib/view/timeline-readout';
import styles from './editor.module.css';

type InstantFieldProps = Readonly<{ atS: number; onChange: (atS: number) => void }>;

/** The instant of a block as somebody types it; taken once it can be read and the field is left. */
export function InstantField({ atS, onChange }: InstantFieldProps) {
  const [typed, setTyped] = useState(fieldTime(atS));
  useEffect(() => setTyped(fieldTime(atS)), [atS]);
  const read = parseSessionTime(typed);
  const isWrong = read === null || Math.abs(read) > 1e9;
  const take = () => {
    if (read !== null && !isWrong && read !== atS) onChange(read);
  };
  const wrongId = useId();
  return (
    <>
      <label className={styles.instant}>
        Session time
        <input
          type="text"
          value={typed}
          maxLength={40}
          aria-invalid={isWrong}
          aria-describedby={isWrong ? wrongId : undefined}
          onChange={(event) => setTyped(event.target.value)}
          onBlur={take}
          onKeyDown={(event) => {
            if (event.key === 'Enter') take();
          }}
        />
      </label>
      {isWrong && (
        <span id={wrongId} className={styles.wrong}>
          Expected hh:mm:ss, hh:mm:ss.s or seconds.
        </span>
      )}
    </>
  );
}
