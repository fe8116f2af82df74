'use client';

import { useEffect, useState } from 'react';
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
  return (
    <label className={styles.instant}>
      Session time
      <input
        type="text"
        inputMode="decimal"
        value={typed}
        maxLength={40}
        aria-invalid={isWrong}
        title={isWrong ? 'Expected hh:mm:ss, hh:mm:ss.s or seconds.' : undefined}
        onChange={(event) => setTyped(event.target.value)}
        onBlur={take}
        onKeyDown={(event) => {
          if (event.key === 'Enter') take();
        }}
      />
    </label>
  );
}
