'use client';

import { useEffect } from 'react';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import type { LogMark } from '@/lib/view/log-mark';
import { lastWords } from '@/lib/view/timeline-readout';
import type { CursorStore } from './cursor-store';

type SaidMarkParts = Readonly<{
  log: readonly LogMark[];
  cursor: CursorStore;
  /** Another window draws other marks. */
  window: TimeWindow;
}>;

/** Marks the entry that was said last, in the lane and in the list, without drawing either again. */
export function useSaidMark({ log, cursor, window }: SaidMarkParts): void {
  // biome-ignore lint/correctness/useExhaustiveDependencies: the marks of another window are other elements
  useEffect(() => {
    let marked = '';
    const put = (id: string, how: 'on' | 'off'): void => {
      const mark = document.querySelector(`[data-mark="${id}"]`);
      const entry = document.querySelector(`[data-entry="${id}"]`);
      mark?.toggleAttribute('data-said', how === 'on');
      if (how === 'on') entry?.setAttribute('aria-current', 'true');
      else entry?.removeAttribute('aria-current');
    };
    const write = (): void => {
      const id = lastWords(log, cursor.get())?.id ?? '';
      if (id === marked) return;
      if (marked !== '') put(marked, 'off');
      if (id !== '') put(id, 'on');
      marked = id;
    };
    write();
    const stop = cursor.subscribe(write);
    return () => {
      stop();
      if (marked !== '') put(marked, 'off');
    };
  }, [log, cursor, window]);
}
