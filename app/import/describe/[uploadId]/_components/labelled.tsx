'use client';

import { useId } from 'react';
import form from '@/app/_components/form/field.module.css';
import type { Choice } from '@/lib/view/describe-view';

type ChooseProps = Readonly<{
  label: string;
  value: string | null;
  choices: readonly Choice[];
  onChange: (value: string) => void;
}>;

/** One of several; nothing is chosen until somebody does. */
export function Choose({ label, value, choices, onChange }: ChooseProps) {
  const id = useId();
  return (
    <div className={form.field}>
      <label htmlFor={id}>{label}</label>
      <select
        id={id}
        className={form.input}
        value={value ?? ''}
        aria-invalid={value === null ? true : undefined}
        onChange={(event) => onChange(event.target.value)}
      >
        {value === null && <option value="">please say</option>}
        {choices.map((choice) => (
          <option key={choice.value} value={choice.value}>
            {choice.label}
          </option>
        ))}
      </select>
    </div>
  );
}

type WriteProps = Readonly<{
  label: string;
  value: string;
  /** `optional` may stay empty. */
  need?: 'required' | 'optional';
  placeholder?: string;
  onChange: (value: string) => void;
}>;

/** A short text. */
export function Write({ label, value, need = 'required', placeholder = '', onChange }: WriteProps) {
  const id = useId();
  const isMissing = need === 'required' && value.trim() === '';
  return (
    <div className={form.field}>
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        type="text"
        className={form.input}
        value={value}
        placeholder={placeholder}
        aria-invalid={isMissing ? true : undefined}
        onChange={(event) => onChange(event.target.value)}
      />
    </div>
  );
}
