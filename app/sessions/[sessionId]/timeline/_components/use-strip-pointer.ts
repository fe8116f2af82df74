'use client';

import { type RefObject, useEffect, useRef } from 'react';
import type { AxisWarp } from '@/lib/view/charts/axis-warp';
import { type TimeWindow, timeAtX } from '@/lib/view/charts/time-window';

export type PointerActs = Readonly<{
  hover: (tS: number) => void;
  /** While dragging; `done` on release. */
  select: (selection: TimeWindow, stage: 'moving' | 'done') => void;
  click: (tS: number, target: Element) => void;
  zoom: (aroundS: number, factor: number) => void;
  pan: (share: number) => void;
}>;

type Plot = Readonly<{
  window: TimeWindow;
  widthPx: number;
  warp: AxisWarp | null;
  selection: TimeWindow | null;
}>;

/** `area` spans the plots exactly and takes no pointer itself. */
type Places = Readonly<{
  strips: RefObject<HTMLElement | null>;
  area: RefObject<HTMLElement | null>;
}>;

/** Under this a press is a click, not a selection. */
const CLICK_PX = 4;

/**
 * Pointer on the strips: move = cursor, drag = selection, Shift and drag = pan, Control and wheel =
 * zoom about the pointer, wheel sideways = pan. Plain wheel stays the page's.
 */
export function useStripPointer(
  { strips, area: plotArea }: Places,
  plot: Plot,
  acts: PointerActs,
): void {
  const latest = useRef({ plot, acts });
  useEffect(() => {
    latest.current = { plot, acts };
  });

  useEffect(() => {
    const area = strips.current;
    const box = plotArea.current;
    if (area === null || box === null) return;
    let press: { id: number; x: number; tS: number; pan: boolean; target: Element } | null = null;
    let moved = false;
    const xOf = (event: PointerEvent | WheelEvent): number =>
      event.clientX - box.getBoundingClientRect().left;
    const timeOf = (event: PointerEvent | WheelEvent): number => {
      const { window, widthPx, warp } = latest.current.plot;
      const at = timeAtX(window, widthPx, Math.min(widthPx, Math.max(0, xOf(event))));
      return warp === null ? at : warp.instant(at);
    };
    const isInside = (event: PointerEvent): boolean => {
      const x = xOf(event);
      return x >= -2 && x <= latest.current.plot.widthPx + 2;
    };

    const down = (event: PointerEvent): void => {
      const target = event.target;
      if (event.button !== 0 || !(target instanceof Element) || !isInside(event)) return;
      if (target.closest('button, a, input, [data-own-pointer]') !== null) return;
      area.dataset.by = 'pointer';
      document.getElementById('timeline-cursor')?.focus({ preventScroll: true });
      event.preventDefault();
      // An end of the selection that is dragged leaves the other one where it stands.
      const edge = target.closest('[data-edge]')?.getAttribute('data-edge') ?? null;
      const { selection } = latest.current.plot;
      const otherS = edge === 'start' ? selection?.toS : selection?.fromS;
      press = {
        id: event.pointerId,
        x: event.clientX,
        tS: edge !== null && otherS !== undefined ? otherS : timeOf(event),
        pan: event.shiftKey,
        target,
      };
      moved = false;
    };
    // A mouse may report many moves in one frame; the last one is what can be seen.
    let frame: number | null = null;
    let lastMove: PointerEvent | null = null;
    const follow = (): void => {
      frame = null;
      if (lastMove !== null && isInside(lastMove)) latest.current.acts.hover(timeOf(lastMove));
    };
    const move = (event: PointerEvent): void => {
      if (press === null) {
        lastMove = event;
        frame ??= requestAnimationFrame(follow);
        return;
      }
      if (!moved && Math.abs(event.clientX - press.x) < CLICK_PX) return;
      if (!moved) area.setPointerCapture(press.id);
      moved = true;
      const { acts: act, plot: now } = latest.current;
      if (press.pan) {
        act.pan((press.x - event.clientX) / now.widthPx);
        press.x = event.clientX;
        return;
      }
      const tS = timeOf(event);
      act.hover(tS);
      act.select({ fromS: Math.min(press.tS, tS), toS: Math.max(press.tS, tS) }, 'moving');
    };
    const up = (event: PointerEvent): void => {
      if (press === null) return;
      const { tS: startS, pan, target } = press;
      press = null;
      if (!moved) {
        if (target.closest('[data-edge]') === null) latest.current.acts.click(startS, target);
        return;
      }
      if (pan) return;
      const tS = timeOf(event);
      latest.current.acts.select(
        { fromS: Math.min(startS, tS), toS: Math.max(startS, tS) },
        'done',
      );
    };
    const cancel = (): void => {
      press = null;
    };
    const wheel = (event: WheelEvent): void => {
      const { acts: act, plot: now } = latest.current;
      if (event.ctrlKey) {
        event.preventDefault();
        act.zoom(timeOf(event), Math.exp(Math.max(-1, Math.min(1, event.deltaY / 200))));
      } else if (Math.abs(event.deltaX) > Math.abs(event.deltaY)) {
        event.preventDefault();
        act.pan(event.deltaX / now.widthPx);
      }
    };
    const key = (): void => {
      delete area.dataset.by;
    };
    area.addEventListener('keydown', key);
    area.addEventListener('focusout', key);
    area.addEventListener('pointerdown', down);
    area.addEventListener('pointermove', move);
    area.addEventListener('pointerup', up);
    area.addEventListener('pointercancel', cancel);
    area.addEventListener('wheel', wheel, { passive: false });
    return () => {
      if (frame !== null) cancelAnimationFrame(frame);
      area.removeEventListener('keydown', key);
      area.removeEventListener('focusout', key);
      area.removeEventListener('pointerdown', down);
      area.removeEventListener('pointermove', move);
      area.removeEventListener('pointerup', up);
      area.removeEventListener('pointercancel', cancel);
      area.removeEventListener('wheel', wheel);
    };
  }, [strips, plotArea]);
}
