'use client';

import { useEffect } from 'react';

/** How often a page left open asks whether somebody else has saved. */
const LOOK_MS = 20_000;

/** Looks while the page is seen, and when it comes into view again. */
export function useLookNowAndThen(look: () => Promise<unknown>): void {
  useEffect(() => {
    const lookIfSeen = () => {
      if (document.visibilityState === 'visible') void look();
    };
    const every = setInterval(lookIfSeen, LOOK_MS);
    document.addEventListener('visibilitychange', lookIfSeen);
    return () => {
      clearInterval(every);
      document.removeEventListener('visibilitychange', lookIfSeen);
    };
  }, [look]);
}
