'use client';

import { useCallback, useState } from 'react';
import type { DocumentCheck } from '@/lib/core/debrief/check-document';
import { readChecks } from '../actions';
import type { Autosave } from './use-autosave';

/** The list before publishing; null where the draft as it is stored is not what is shown. */
export type Ready =
  | Readonly<{ version: number; checks: readonly DocumentCheck[] }>
  | 'looking'
  | null;

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
    const checks = await readChecks(sessionId).catch(() => null);
    setReady(checks === null ? null : { version, checks });
  }, [sessionId, flush, look]);
  return { ready, prepare };
}
