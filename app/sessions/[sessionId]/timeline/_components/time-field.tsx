'use client';

import { useEffect, useId, useState } from 'react';
import { type EntryPlace, readTimeEntry } from '@/lib/view/timeline-time-entry';
import styles from './forms.module.css';
import { useClock } from './use-axis';

type TimeFieldProps = Readonly<{
  label: string;
  id?: string;
  place: EntryPlace;
  valueS: number | null;
  /** A sentence where a time may not stand here; null where it may. */
  refuses?: (tS: number) => string | null;
  /** Whether leaving the field takes what stands in it, as Enter does. */
  onLeaving?: 'take' | 'keep';
  onChange: (tS: number) => void;
}>;

const NOTE_MS = 8000;
const NOTHING = { kind: 'none', text: '' } as const;

/**
 * A time typed exactly, in any code the session knows, taken on Enter or on leaving. What it was read
 * as, or why it was not taken, stands under it.
 */
export function TimeField(props: TimeFieldProps) {
  const { label, place, valueS, refuses, onLeaving = 'take', onChange } = props;
  const clock = useClock();
  const own = useId();
  const id = props.id ?? own;
  const [text, setText] = useState(valueS === null ? '' : clock.fieldText(valueS));
  const [says, setSays] =
    useState<Readonly<{ kind: 'none' | 'wrong' | 'note'; text: string }>>(NOTHING);
  useEffect(() => {
    setText(valueS === null ? '' : clock.fieldText(valueS));
    setSays((before) => (before.kind === 'wrong' ? NOTHING : before));
  }, [valueS, clock]);
  // Where nothing stands in the field afterwards, what was read as UTC is told for a while only.
  const isPassing = says.kind === 'note' && valueS === null;
  useEffect(() => {
    if (!isPassing) return;
    const timer = setTimeout(() => setSays(NOTHING), NOTE_MS);
    return () => clearTimeout(timer);
  }, [isPassing]);
  const take = (): void => {
    if (text.trim() === '' || (valueS !== null && text === clock.fieldText(valueS))) return;
    const entry = readTimeEntry(text, place);
    const problem = entry.ok ? (refuses?.(entry.tS) ?? null) : entry.problem;
    if (!entry.ok || problem !== null) {
      setSays({ kind: 'wrong', text: problem ?? '' });
      return;
    }
    setSays(entry.note === '' ? NOTHING : { kind: 'note', text: entry.note });
    if (valueS === null || clock.fieldText(entry.tS) !== clock.fieldText(valueS))
      onChange(entry.tS);
    setText(valueS === null ? '' : clock.fieldText(valueS));
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
        aria-invalid={says.kind === 'wrong'}
        aria-describedby={says.kind === 'none' ? undefined : `${id}-says`}
        onChange={(event) => {
          setText(event.target.value);
          setSays(NOTHING);
        }}
        onBlur={onLeaving === 'take' ? take : undefined}
        onKeyDown={(event) => {
          if (event.key !== 'Enter') return;
          event.preventDefault();
          take();
        }}
      />
      {says.kind !== 'none' && (
        <span
          id={`${id}-says`}
          className={says.kind === 'wrong' ? styles.wrong : styles.readAs}
          role={says.kind === 'wrong' ? 'alert' : undefined}
        >
          {says.text}
        </span>
      )}
    </div>
  );
}
