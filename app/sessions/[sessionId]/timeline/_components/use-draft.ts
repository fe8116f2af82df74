'use client';

import { useEffect, useRef, useState } from 'react';
import { readJson } from '@/lib/view/checked-answers';

type DraftFields = Readonly<Record<string, string>>;

export type Draft<Fields extends DraftFields> = Readonly<{
  fields: Fields;
  /** Of what is saved: the one that these words go on from. */
  version: number;
  goOnFrom: (version: number) => void;
  /** True when unsaved words of an earlier visit were taken up. */
  restored: 'restored' | 'fresh';
  /** `dirty` once somebody has typed what is not saved. */
  words: 'clean' | 'dirty';
  put: (changes: Partial<Fields>) => void;
  /** Takes up words that are saved already, such as newer ones of somebody else. */
  takeUp: (fields: Fields) => void;
  /** Forgets the words that were saved or thrown away; words typed since stay, unsaved. */
  forget: (done: Fields) => void;
}>;

/** Unsaved words outlive a closed sheet or a reloaded page: kept in this tab until they are saved. */
export function useDraft<Fields extends DraftFields>(
  key: string,
  empty: Fields,
  savedVersion: number,
): Draft<Fields> {
  const [kept] = useState(() => readKept(key, empty));
  const [fields, setFields] = useState<Fields>(kept?.fields ?? empty);
  const [version, goOnFrom] = useState(kept?.version ?? savedVersion);
  const [saved, setSaved] = useState<Fields | null>(kept === null ? fields : null);
  const latest = useRef(fields);
  const isDirty = fields !== saved;
  useEffect(() => {
    try {
      if (isDirty) sessionStorage.setItem(key, JSON.stringify({ version, fields }));
    } catch {
      // Storage is full or forbidden: the words stay on the page only.
    }
  }, [key, version, fields, isDirty]);
  const show = (next: Fields): void => {
    latest.current = next;
    setFields(next);
  };
  return {
    fields,
    version,
    goOnFrom,
    restored: kept === null ? 'fresh' : 'restored',
    words: isDirty ? 'dirty' : 'clean',
    takeUp: (next) => {
      show(next);
      setSaved(next);
    },
    put: (changes) => show({ ...latest.current, ...changes }),
    forget: (done) => {
      setSaved(done);
      if (latest.current !== done) return;
      try {
        sessionStorage.removeItem(key);
      } catch {
        // As above.
      }
    },
  };
}

type Kept<Fields extends DraftFields> = Readonly<{ version: number; fields: Fields }>;

function readKept<Fields extends DraftFields>(key: string, empty: Fields): Kept<Fields> | null {
  try {
    const text = sessionStorage.getItem(key);
    return text === null ? null : readJson(text, (value) => isKept(empty, value));
  } catch {
    // Storage is forbidden: there is nothing to take up.
    return null;
  }
}

function isKept<Fields extends DraftFields>(empty: Fields, value: unknown): value is Kept<Fields> {
  if (typeof value !== 'object' || value === null) return false;
  const fields: unknown = Reflect.get(value, 'fields');
  if (typeof fields !== 'object' || fields === null) return false;
  if (typeof Reflect.get(value, 'version') !== 'number') return false;
  return Object.keys(empty).every((name) => typeof Reflect.get(fields, name) === 'string');
}
