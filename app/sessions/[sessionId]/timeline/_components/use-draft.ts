'use client';

import { useEffect, useState } from 'react';
import { readJson } from '@/lib/view/checked-answers';

type DraftFields = Readonly<Record<string, string>>;

export type Draft<Fields extends DraftFields> = Readonly<{
  fields: Fields;
  /** True when unsaved words of an earlier visit were taken up. */
  restored: 'restored' | 'fresh';
  /** `dirty` once somebody has typed what is not saved. */
  words: 'clean' | 'dirty';
  put: (changes: Partial<Fields>) => void;
  /** Takes up words that are saved already, such as newer ones of somebody else. */
  takeUp: (fields: Fields) => void;
  /** Forgets the kept words: after saving, or when they are thrown away. */
  forget: () => void;
}>;

/** Unsaved words outlive a closed sheet or a reloaded page: kept in this tab until they are saved. */
export function useDraft<Fields extends DraftFields>(key: string, empty: Fields): Draft<Fields> {
  const [kept] = useState(() => readKept(key, empty));
  const [fields, setFields] = useState<Fields>(kept ?? empty);
  const [dirty, setDirty] = useState(kept !== null);
  useEffect(() => {
    try {
      if (dirty) sessionStorage.setItem(key, JSON.stringify(fields));
    } catch {
      // Storage is full or forbidden: the words stay on the page only.
    }
  }, [key, fields, dirty]);
  return {
    fields,
    restored: kept === null ? 'fresh' : 'restored',
    words: dirty ? 'dirty' : 'clean',
    takeUp: setFields,
    put: (changes) => {
      setDirty(true);
      setFields((before) => ({ ...before, ...changes }));
    },
    forget: () => {
      setDirty(false);
      try {
        sessionStorage.removeItem(key);
      } catch {
        // As above.
      }
    },
  };
}

function readKept<Fields extends DraftFields>(key: string, empty: Fields): Fields | null {
  try {
    const text = sessionStorage.getItem(key);
    return text === null ? null : readJson(text, (value) => hasFieldsOf(empty, value));
  } catch {
    // Storage is forbidden: there is nothing to take up.
    return null;
  }
}

function hasFieldsOf<Fields extends DraftFields>(empty: Fields, value: unknown): value is Fields {
  if (typeof value !== 'object' || value === null) return false;
  return Object.keys(empty).every((name) => typeof Reflect.get(value, name) === 'string');
}
