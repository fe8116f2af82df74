'use client';

import { useEffect } from 'react';
import type { TimelineState } from '@/lib/view/timeline-state';
import { type TimelineKnown, writeTimelineAddress } from '@/lib/view/timeline-url';

const SETTLE_MS = 250;

/** Keeps the address in step with what is shown, without a visit of its own for each zoom. */
export function useAddress(state: TimelineState, known: TimelineKnown): void {
  const query = writeTimelineAddress(state, known);
  useEffect(() => {
    const timer = setTimeout(() => {
      const next = `${location.pathname}${query}`;
      if (`${location.pathname}${location.search}` !== next) history.replaceState(null, '', next);
    }, SETTLE_MS);
    return () => clearTimeout(timer);
  }, [query]);
}
