'use client';

import { useEffect } from 'react';
import type { TimelineState } from '@/lib/view/timeline-state';
import { type TimelineKnown, writeTimelineAddress } from '@/lib/view/timeline-url';

const SETTLE_MS = 250;

/** Saves on their way: the framework loads the whole page anew when the address changes under one. */
let savesUnderWay = 0;

/** Carries out a save while the address rests. */
export async function withAddressAtRest<Result>(save: () => Promise<Result>): Promise<Result> {
  savesUnderWay += 1;
  try {
    return await save();
  } finally {
    savesUnderWay -= 1;
  }
}

/** Keeps the address in step with what is shown, without a visit of its own for each zoom. */
export function useAddress(state: TimelineState, known: TimelineKnown): void {
  const query = writeTimelineAddress(state, known);
  useEffect(() => {
    let timer = setTimeout(write, SETTLE_MS);
    function write(): void {
      if (savesUnderWay > 0) {
        timer = setTimeout(write, SETTLE_MS);
        return;
      }
      const next = `${location.pathname}${query}`;
      if (`${location.pathname}${location.search}` !== next) history.replaceState(null, '', next);
    }
    return () => clearTimeout(timer);
  }, [query]);
}
