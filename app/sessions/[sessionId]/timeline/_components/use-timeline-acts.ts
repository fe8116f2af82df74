'use client';

import { type KeyboardEvent, type RefObject, useEffect, useMemo, useRef } from 'react';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import { clockStretch } from '@/lib/view/timeline-clock';
import { type TimelineCommand, timelineCommand } from '@/lib/view/timeline-keys';
import { type ActParts, click, goTo, isForTimeline, runCommand } from './timeline-acts';
import type { PointerActs } from './use-strip-pointer';

export type TimelineActs = Readonly<{
  onKeyDown: (event: KeyboardEvent) => void;
  run: (command: TimelineCommand) => void;
  goTo: (tS: number) => void;
  pointer: Omit<PointerActs, 'select'>;
  selectWhile: (
    dragged: RefObject<((selection: TimeWindow | null) => void) | null>,
  ) => PointerActs['select'];
}>;

/** Every act of the timeline, the same by key, button and pointer. Stable over renders. */
export function useTimelineActs(parts: ActParts): TimelineActs {
  const latest = useRef(parts);
  useEffect(() => {
    latest.current = parts;
  });
  return useMemo(() => makeActs(() => latest.current), []);
}

function makeActs(now: () => ActParts): TimelineActs {
  return {
    run: (command) => runCommand(now(), command),
    goTo: (tS) => goTo(now(), tS),
    onKeyDown: (event) => {
      const command = isForTimeline(event) ? timelineCommand(event) : null;
      if (command === null) return;
      event.preventDefault();
      runCommand(now(), command);
    },
    pointer: {
      // While a recording plays the cursor is its hand: only a press takes it elsewhere.
      hover: (tS) => {
        if (!now().player.isPlaying()) now().cursor.set(tS);
      },
      click: (tS, target) => click(now(), tS, target),
      zoom: (aroundS, factor) => now().dispatch({ kind: 'zoom', aroundS, factor }),
      pan: (share) => now().dispatch({ kind: 'pan', share }),
    },
    selectWhile: (dragged) => (selection, stage) => {
      dragged.current?.(selection);
      if (stage === 'moving') return;
      now().dispatch({ kind: 'select', selection });
      now().say(`Selected ${clockStretch(now().clock, selection)}.`);
    },
  };
}
