'use client';

import { useEffect, useState } from 'react';

export type Fetched<T> =
  | Readonly<{ state: 'none' }>
  | Readonly<{ state: 'loading' }>
  | Readonly<{ state: 'ready'; value: T }>
  | Readonly<{ state: 'failed'; message: string }>;

const SETTLE_MS = 200;

/** JSON of an address of our own; a change of the address calls off the question before. */
export function useFetched<T>(
  address: string | null,
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
      try {
        const response = await fetch(address, { signal: abort.signal });
        if (!response.ok) {
          setFetched({ state: 'failed', message: (await response.text()).trim().slice(0, 300) });
          return;
        }
        // Our own route wrote it, by the view model of the same type.
        setFetched({ state: 'ready', value: (await response.json()) as T });
      } catch {
        if (abort.signal.aborted) return;
        setFetched({ state: 'failed', message: 'The server does not answer.' });
      }
    };
    // `round` is the count of questions asked by hand: the first of an address waits a moment.
    const timer = setTimeout(() => void ask(), round === 0 ? SETTLE_MS : 0);
    return () => {
      clearTimeout(timer);
      abort.abort();
    };
  }, [address, round]);
  return { ...fetched, retry: () => setRound((before) => before + 1) };
}
