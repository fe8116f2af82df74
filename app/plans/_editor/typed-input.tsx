'use client';

import { useRef, useState } from 'react';
import field from '@/app/_components/form/field.module.css';
import { typedNumber } from '@/lib/view/plans/draft-view';
import type { DraftEdit } from '@/lib/view/plans/edit-draft';

type TypedInputProps = Readonly<{
  id?: string;
  /** What a reader is told where no label points to it. */
  label?: string;
  value: string;
  of: 'text' | 'number';
  path: readonly (string | number)[];
  isWrong: boolean;
  onEdit: (edit: DraftEdit, group?: string) => void;
}>;

const COMMIT_AFTER_MS = 200;

/** A text or number; what is typed goes into the draft as one change that undo takes back at once. */
export function TypedInput({ id, label, value, of, path, isWrong, onEdit }: TypedInputProps) {
  const [typed, setTyped] = useState<string | null>(null);
  const timer = useRef(0);

  function commit(text: string): void {
    window.clearTimeout(timer.current);
    const next = of === 'number' ? typedNumber(text) : text;
    if (text !== value) onEdit({ op: 'set', path, value: next }, `typed ${path.join(' ')}`);
  }

  const props = {
    id,
    'aria-label': label,
    className: field.input,
    value: typed ?? value,
    'aria-invalid': isWrong ? true : undefined,
    'aria-describedby': isWrong && id !== undefined ? `${id}-problem` : undefined,
    onChange: ({ target }: Readonly<{ target: { value: string } }>) => {
      const { value: text } = target;
      setTyped(text);
      window.clearTimeout(timer.current);
      timer.current = window.setTimeout(() => commit(text), COMMIT_AFTER_MS);
    },
    onBlur: () => {
      if (typed !== null) commit(typed);
      setTyped(null);
    },
  } as const;
  if (path.at(-1) === 'statement') return <textarea rows={2} {...props} />;
  const list =
    path.at(-1) === 'quantity' || path.at(-1) === 'rate_of' ? 'known-quantities' : undefined;
  return (
    <input type="text" list={list} inputMode={of === 'number' ? 'decimal' : undefined} {...props} />
  );
}
