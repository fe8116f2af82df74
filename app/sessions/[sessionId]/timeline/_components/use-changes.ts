'use client';

import { useRouter } from 'next/navigation';
import { useEffect, useState } from 'react';

export type ChangesState = 'live' | 'lost' | 'gone';

/** What other people change arrives by itself: the page is asked for again when told so. */
export function useChanges(sessionId: string): ChangesState {
  const router = useRouter();
  const [state, setState] = useState<ChangesState>('live');
  useEffect(() => {
    let stamp: string | null = null;
    const source = new EventSource(`/sessions/${encodeURIComponent(sessionId)}/timeline/changes`);
    source.addEventListener('remarks', (event) => {
      setState('live');
      if (stamp !== null && stamp !== event.data) router.refresh();
      stamp = event.data;
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
