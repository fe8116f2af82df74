'use client';

import {
  type Dispatch,
  type KeyboardEvent,
  type RefObject,
  useEffect,
  useMemo,
  useRef,
} from 'react';
import { clampTime, type TimeWindow, windowSpanS } from '@/lib/view/charts/time-window';
import { formatSessionTime, formatStretch } from '@/lib/view/format-time';
import type { TimelineView } from '@/lib/view/timeline';
import {
  nextStopS,
  type TimelineCommand,
  type TimelineStop,
  timelineCommand,
} from '@/lib/view/timeline-keys';
import type { TimelineAction, TimelineState } from '@/lib/view/timeline-state';
import { stopsOf, textAtStop } from '@/lib/view/timeline-stops';
import type { CursorStore } from './cursor-store';
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

type Parts = Readonly<{
  view: TimelineView;
  state: TimelineState;
  dispatch: Dispatch<TimelineAction>;
  cursor: CursorStore;
  help: RefObject<HTMLElement | null>;
  /** Read out by a screen reader. */
  say: (sentence: string) => void;
}>;

const FINE_S = 0.1;
const STOP_WORDS: Readonly<Record<TimelineStop, string>> = {
  event: 'log entry',
  exceedance: 'stretch beyond a limit',
  finding: 'finding or annotation',
  phase: 'phase',
};

/** Every act of the timeline, the same by key, button and pointer. Stable over renders. */
export function useTimelineActs(parts: Parts): TimelineActs {
  const latest = useRef(parts);
  useEffect(() => {
    latest.current = parts;
  });
  return useMemo(() => makeActs(() => latest.current), []);
}

function makeActs(now: () => Parts): TimelineActs {
  const goTo = (tS: number): void => {
    const { cursor, dispatch, view } = now();
    cursor.set(clampTime(view.session, tS));
    dispatch({ kind: 'reveal', tS: cursor.get() });
  };

  const go = (stop: TimelineStop, direction: 1 | -1): void => {
    const { view, cursor, say } = now();
    const next = nextStopS(stopsOf(view, stop), cursor.get(), direction);
    if (next === null) {
      say(`No ${STOP_WORDS[stop]} ${direction === 1 ? 'after' : 'before'} the cursor.`);
      return;
    }
    goTo(next);
    say(`${formatSessionTime(next)}, ${textAtStop(view, stop, next)}`);
  };

  const write = (what: 'finding' | 'annotation'): void => {
    const { state, dispatch, cursor } = now();
    const at = cursor.get();
    const stretch = state.selection ?? { fromS: at, toS: at };
    if (state.selection === null) dispatch({ kind: 'select', selection: stretch });
    dispatch({
      kind: 'open',
      sheet: { kind: what === 'finding' ? 'new-finding' : 'new-annotation', stretch },
    });
  };

  const run = (command: TimelineCommand): void => {
    const { state, dispatch, cursor, say, help } = now();
    switch (command.kind) {
      case 'move-cursor': {
        const step = command.pace === 'fine' ? FINE_S : windowSpanS(state.window) / 100;
        goTo(cursor.get() + command.direction * step);
        break;
      }
      case 'pan':
        dispatch({ kind: 'pan', share: command.direction / 2 });
        break;
      case 'zoom':
        dispatch({ kind: 'zoom', aroundS: cursor.get(), factor: command.factor });
        break;
      case 'whole-session':
        dispatch({ kind: 'whole-session' });
        break;
      case 'zoom-to-selection':
        if (state.selection !== null) dispatch({ kind: 'frame', stretch: state.selection });
        else say('Nothing is selected.');
        break;
      case 'go':
        go(command.stop, command.direction);
        break;
      case 'set-edge':
        dispatch({ kind: 'set-edge', edge: command.edge, tS: cursor.get() });
        say(`Selection ${command.edge}s at ${formatSessionTime(cursor.get())}.`);
        break;
      case 'clear-selection':
        dispatch({ kind: 'select', selection: null });
        break;
      case 'write':
        write(command.what);
        break;
      case 'help':
        help.current?.togglePopover();
    }
  };

  const click = (tS: number, target: Element): void => {
    const { view, dispatch, cursor, say } = now();
    const ids = target.closest('[data-ids]')?.getAttribute('data-ids')?.split(' ');
    if (ids !== undefined) {
      const times = [
        ...view.log.filter((mark) => ids.includes(mark.id)).map((mark) => mark.tS),
        ...view.remarks
          .filter((bar) => ids.includes(bar.id))
          .flatMap((bar) => [bar.fromS, bar.toS]),
      ];
      if (times.length > 0)
        dispatch({
          kind: 'frame',
          stretch: { fromS: Math.min(...times), toS: Math.max(...times) },
        });
      return;
    }
    const mark = view.log.find(
      (each) => each.id === target.closest('[data-mark]')?.getAttribute('data-mark'),
    );
    if (mark !== undefined) {
      cursor.set(mark.tS);
      return;
    }
    const id = target.closest('[data-bar]')?.getAttribute('data-bar');
    const remark = view.remarks.find((bar) => bar.id === id);
    const bar =
      remark ?? [...view.phases, ...view.beyond, ...view.faults].find((each) => each.id === id);
    cursor.set(tS);
    dispatch({ kind: 'select', selection: bar ?? null });
    if (bar !== undefined) say(`Selected ${formatStretch(bar.fromS, bar.toS)}, ${bar.label}.`);
    if (remark !== undefined)
      dispatch({ kind: 'open', sheet: { kind: remark.kind, id: remark.id } });
  };

  return {
    run,
    goTo,
    onKeyDown: (event) => {
      const target = event.target;
      if (target instanceof Element && target.closest('input, textarea, select') !== null) return;
      const onButton = target instanceof Element && target.closest('button, a') !== null;
      if (onButton && (event.key === 'Enter' || event.key === ' ')) return;
      // Escape then closes what is open over the strips; the selection stays.
      if (event.key === 'Escape' && document.querySelector(':popover-open') !== null) return;
      const command = timelineCommand(event);
      if (command === null) return;
      event.preventDefault();
      run(command);
    },
    pointer: {
      hover: (tS) => now().cursor.set(tS),
      click,
      zoom: (aroundS, factor) => now().dispatch({ kind: 'zoom', aroundS, factor }),
      pan: (share) => now().dispatch({ kind: 'pan', share }),
    },
    selectWhile: (dragged) => (selection, stage) => {
      dragged.current?.(selection);
      if (stage === 'moving') return;
      now().dispatch({ kind: 'select', selection });
      now().say(`Selected ${formatStretch(selection.fromS, selection.toS)}.`);
    },
  };
}
