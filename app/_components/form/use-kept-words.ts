'use client';

import { useEffect, useState } from 'react';
import { type KeptWords, readKeptWords, wordsOf } from '@/lib/view/kept-words';

type Held = Readonly<{ kept: KeptWords | null; round: number }>;

/**
 * Words of a form that outlive its being put up anew: a page that refreshes, reloads, or is left and
 * come back to in this tab. Held until the form is done or they are thrown away.
 *
 * @param version of what is edited; null for something new
 * @returns `round` rises when words are taken up or thrown away, so that the fields show them
 */
export function useKeptWords(key: string, version: number | null) {
  const [{ kept, round }, setHeld] = useState<Held>({ kept: null, round: 0 });
  useEffect(() => {
    const text = inStore((store) => store.getItem(key));
    const found = text === null ? null : readKeptWords(text);
    if (found !== null) setHeld((before) => ({ kept: found, round: before.round + 1 }));
  }, [key]);
  function keep(form: HTMLFormElement): void {
    const since = kept === null ? version : kept.since;
    const next = { words: wordsOf(new FormData(form)), since };
    inStore((store) => store.setItem(key, JSON.stringify(next)));
    setHeld({ kept: next, round });
  }
  function forget(): void {
    inStore((store) => store.removeItem(key));
    setHeld((before) => ({ kept: null, round: before.round + 1 }));
  }
  return { kept, round, keep, forget };
}

/** A browser may refuse to keep anything: the words then outlive no reload. */
function inStore<T>(work: (store: Storage) => T): T | null {
  try {
    return work(window.sessionStorage);
  } catch {
    return null;
  }
}
