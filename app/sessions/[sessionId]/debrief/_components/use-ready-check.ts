'use client';

import { useCallback, useState } from 'react';
import type { LookedThrough } from '@/lib/server/publish/draft-content';
import { readLookThrough } from '../actions';
import type { Autosave } from './use-autosave';

/** The list before publishing and the approvals; null where the draft as it is stored is not what is shown. */
export type Ready = LookedThrough | 'looking' | null;

/** Saves the draft, makes sure that it is the newest, and has it looked through. */
export function useReadyCheck(
  sessionId: string,
  { flush, look }: Pick<Autosave, 'flush' | 'look'>,
): Readonly<{ ready: Ready; prepare: () => Promise<void> }> {
  const [ready, setReady] = useState<Ready>('looking');
  const prepare = useCallback(async () => {
    setReady('looking');
    const version = await flush();
    if (version === null || !(await look())) return setReady(null);
    setReady(await readLookThrough(sessionId).catch(() => null));
  }, [sessionId, flush, look]);
  return { ready, prepare };
}
