'use client';

import { useEffect, useState } from 'react';
import { readJson } from '@/lib/view/checked-answers';

export type Fetched<T> =
  | Readonly<{ state: 'none' }>
  | Readonly<{ state: 'loading' }>
  | Readonly<{ state: 'ready'; value: T }>
  | Readonly<{ state: 'failed'; message: string }>;

const SETTLE_MS = 200;

/**
 * JSON of an address of our own; a change of the address calls off the question before.
 *
 * @param fits looks at the answer; a function that stays the same over renders
 */
export function useFetched<T>(
  address: string | null,
  fits: (value: unknown) => value is T,
): Fetched<T> & Readonly<{ retry: () => void }> {
  const [fetched, setFetched] = useState<Fetched<T>>({ state: 'none' });
  const [round, setRound] = useState(0);
  useEffect(() => {
    if (address === null) {
      setFetched({ state: 'none' });
      return;
    }
    const abort = new AbortController();
    const ask = async (): Promise<void> => {
      setFetched({ state: 'loading' });
      const answer = await fetchJson(address, fits, abort.signal);
      if (!abort.signal.aborted) setFetched(answer);
    };
    // `round` is the count of questions asked by hand: the first of an address waits a moment.
    const timer = setTimeout(() => void ask(), round === 0 ? SETTLE_MS : 0);
    return () => {
      clearTimeout(timer);
      abort.abort();
    };
  }, [address, fits, round]);
  return { ...fetched, retry: () => setRound((before) => before + 1) };
}

async function fetchJson<T>(
  address: string,
  fits: (value: unknown) => value is T,
  signal: AbortSignal,
): Promise<Fetched<T>> {
  try {
    const response = await fetch(address, { signal });
    const text = await response.text();
    if (!response.ok) return { state: 'failed', message: text.trim().slice(0, 300) };
    const value = readJson(text, fits);
    return value === null
      ? { state: 'failed', message: 'The answer is not what was asked for: load the page again.' }
      : { state: 'ready', value };
  } catch {
    return { state: 'failed', message: 'The server does not answer.' };
  }
}
