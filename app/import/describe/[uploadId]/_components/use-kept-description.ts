import { useEffect, useState } from 'react';
import type { SessionDescription } from '@/lib/core/intake/proposal/session-proposal';
import type { DescribeView } from '@/lib/view/describe-view';
import { isKeptKey, keptKey, readKept } from '@/lib/view/kept-description';

/** Beyond this many the earlier ones go. */
const MOST_KEPT = 20;

/** The browser's own store; null where it is switched off or full. */
function inStore<T>(work: (store: Storage) => T): T | null {
  try {
    return work(window.localStorage);
  } catch {
    // Without it the form works and forgets.
    return null;
  }
}

/** A description that outlives reloading and going back, until it is discarded. */
export function useKeptDescription({ uploadId, description: proposed }: DescribeView) {
  const [description, setDescription] = useState(proposed);
  const key = keptKey(uploadId);
  useEffect(() => {
    const kept = readKept(
      inStore((store) => store.getItem(key)),
      proposed,
    );
    if (kept !== null) setDescription(kept);
    inStore((store) => {
      const others = Object.keys(store).filter((one) => isKeptKey(one) && one !== key);
      if (others.length >= MOST_KEPT) for (const one of others) store.removeItem(one);
    });
  }, [key, proposed]);
  function change(next: SessionDescription): void {
    setDescription(next);
    inStore((store) => store.setItem(key, JSON.stringify(next)));
  }
  function forget(): void {
    inStore((store) => store.removeItem(key));
  }
  return { description, change, forget };
}
