'use client';

import { useRouter } from 'next/navigation';
import { useEffect, useRef, useState } from 'react';

/** What stands before the server may refuse while that starts. */
const REFUSED_AGAIN_MS = 5000;

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
    let source: EventSource | null = null;
    let again: ReturnType<typeof setTimeout> | undefined;
    const open = (): void => {
      const own = new EventSource(`/sessions/${encodeURIComponent(sessionId)}/timeline/changes`);
      source = own;
      own.addEventListener('remarks', (event) => {
        setState('live');
        if (event.data !== JSON.stringify({ stamp: shown.current })) router.refresh();
      });
      own.addEventListener('gone', () => {
        setState('gone');
        own.close();
      });
      own.addEventListener('open', () => setState('live'));
      own.addEventListener('error', () => {
        setState('lost');
        // Of a line that could not be reached the browser opens another, of one that was refused it does not.
        if (own.readyState === EventSource.CLOSED) again = setTimeout(open, REFUSED_AGAIN_MS);
      });
    };
    open();
    return () => {
      clearTimeout(again);
      source?.close();
    };
  }, [sessionId, router]);
  return state;
}
