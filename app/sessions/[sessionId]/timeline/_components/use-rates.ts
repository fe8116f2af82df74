'use client';

import { useEffect, useState } from 'react';
import { isRatesView, readJson } from '@/lib/view/checked-answers';
import type { CursorStore } from './cursor-store';
import { makeRatesStore, type RatesStore } from './rates-store';

type Asked = Readonly<{ sessionId: string; cursor: CursorStore; keys: readonly string[] }>;

/** A cursor that moves is not asked for; one that rests so long is. */
const REST_MS = 120;
const NONE: ReadonlyMap<string, string> = new Map();

/** Rates of columns where the cursor rests, from all samples there: an envelope does not say them. */
export function useRates({ sessionId, cursor, keys }: Asked): RatesStore {
  const [store] = useState(makeRatesStore);
  useEffect(() => {
    let rest: ReturnType<typeof setTimeout> | undefined;
    let abort = new AbortController();
    const ask = async (): Promise<void> => {
      const found = await fetchRates(sessionId, { atS: cursor.get(), keys }, abort.signal);
      if (found !== null) store.set(found);
    };
    const moved = (): void => {
      clearTimeout(rest);
      abort.abort();
      abort = new AbortController();
      store.set(NONE);
      if (keys.length > 0) rest = setTimeout(() => void ask(), REST_MS);
    };
    moved();
    const stop = cursor.subscribe(moved);
    return () => {
      stop();
      clearTimeout(rest);
      abort.abort();
    };
  }, [sessionId, cursor, keys, store]);
  return store;
}

/** @returns null where nothing was answered: the strips' own notice says so */
async function fetchRates(
  sessionId: string,
  { atS, keys }: Readonly<{ atS: number; keys: readonly string[] }>,
  signal: AbortSignal,
): Promise<ReadonlyMap<string, string> | null> {
  const query = new URLSearchParams({ at: `${atS}` });
  for (const key of keys) query.append('c', key);
  try {
    const address = `/sessions/${encodeURIComponent(sessionId)}/timeline/rates?${query}`;
    const response = await fetch(address, { signal });
    const view = response.ok ? readJson(await response.text(), isRatesView) : null;
    if (view === null || signal.aborted) return null;
    return new Map(view.rates.map(({ key, text }) => [key, text]));
  } catch {
    return null;
  }
}
