'use client';

import { useRouter } from 'next/navigation';
import { useEffect, useRef, useState } from 'react';

export type ChangesState = 'live' | 'lost' | 'gone';

/**
 * What other people change arrives by itself: the page is asked for again when told so.
 *
 * @param stamp of what the page shows: a change made before the line was open is seen by it too
 */
export function useChanges(sessionId: string, stamp: string): ChangesState {
  const router = useRouter();
  const [state, setState] = useState<ChangesState>('live');
  const shown = useRef(stamp);
  useEffect(() => {
    shown.current = stamp;
  }, [stamp]);
  useEffect(() => {
    const source = new EventSource(`/sessions/${encodeURIComponent(sessionId)}/timeline/changes`);
    source.addEventListener('remarks', (event) => {
      setState('live');
      if (event.data !== JSON.stringify({ stamp: shown.current })) router.refresh();
    });
    source.addEventListener('gone', () => {
      setState('gone');
      source.close();
    });
    source.addEventListener('open', () => setState('live'));
    source.addEventListener('error', () => setState('lost'));
    return () => source.close();
  }, [sessionId, router]);
  return state;
}
