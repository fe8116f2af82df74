'use client';

import { useEffect, useId, useState } from 'react';
import { fieldTime, parseSessionTime } from '@/lib/view/timeline-readout';
import styles from './forms.module.css';

type TimeFieldProps = Readonly<{
  label: string;
  valueS: number | null;
  onChange: (tS: number) => void;
}>;

/** A session time typed exactly: taken on Enter or on leaving, said when it cannot be read. */
export function TimeField({ label, valueS, onChange }: TimeFieldProps) {
  const id = useId();
  const [text, setText] = useState(valueS === null ? '' : fieldTime(valueS));
  const [wrong, setWrong] = useState(false);
  useEffect(() => {
    setText(valueS === null ? '' : fieldTime(valueS));
    setWrong(false);
  }, [valueS]);
  const take = (): void => {
    if (text.trim() === '') return;
    const tS = parseSessionTime(text);
    setWrong(tS === null);
    if (tS !== null && (valueS === null || fieldTime(tS) !== fieldTime(valueS))) onChange(tS);
  };
  return (
    <div className={styles.field}>
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        className={styles.time}
        inputMode="text"
        autoComplete="off"
        spellCheck={false}
        placeholder="hh:mm:ss"
        value={text}
        aria-invalid={wrong}
        aria-describedby={wrong ? `${id}-wrong` : undefined}
        onChange={(event) => setText(event.target.value)}
        onBlur={take}
        onKeyDown={(event) => {
          if (event.key !== 'Enter') return;
          event.preventDefault();
          take();
        }}
      />
      {wrong && (
        <span id={`${id}-wrong`} className={styles.wrong}>
          Not a session time: hh:mm:ss or seconds.
        </span>
      )}
    </div>
  );
}
