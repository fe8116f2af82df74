'use client';

import { type RefObject, useEffect, useRef } from 'react';
import { type TimeWindow, windowSpanS, xAtTime } from '@/lib/view/charts/time-window';
import { clockStretch } from '@/lib/view/timeline-clock';
import type { CursorStore } from './cursor-store';
import styles from './timeline.module.css';
import type { ShownAxis } from './use-axis';

type OverlayProps = Readonly<{
  area: RefObject<HTMLDivElement | null>;
  window: TimeWindow;
  session: TimeWindow;
  widthPx: number;
  axis: ShownAxis;
  selection: TimeWindow | null;
  cursor: CursorStore;
  /** Set while dragging: drawn without a new state of the page. */
  dragged: RefObject<((selection: TimeWindow | null) => void) | null>;
}>;

/** Cursor and selection above every strip. Only these two boxes move when the pointer does. */
export function Overlay({
  area,
  window,
  session,
  widthPx,
  axis,
  selection,
  cursor,
  dragged,
}: OverlayProps) {
  const { clock, warp } = axis;
  const line = useRef<HTMLDivElement>(null);
  const box = useRef<HTMLDivElement>(null);

  useEffect(() => {
    const write = (): void => {
      if (line.current === null) return;
      const tS = cursor.get();
      const x = xAtTime(window, widthPx, warp?.place(tS) ?? tS);
      line.current.style.transform = `translateX(${x}px)`;
      // Not `hidden`: what is hidden loses the focus, and with it the keys that would bring it back.
      line.current.toggleAttribute('data-out', x < -0.5 || x > widthPx + 0.5);
      line.current.setAttribute('aria-valuenow', tS.toFixed(1));
      line.current.setAttribute('aria-valuetext', clock.text(tS));
    };
    write();
    return cursor.subscribe(write);
  }, [window, widthPx, cursor, clock, warp]);

  useEffect(() => {
    const write = (shown: TimeWindow | null): void => {
      if (box.current === null) return;
      box.current.hidden = shown === null || shown.toS < window.fromS || shown.fromS > window.toS;
      if (shown === null) return;
      const xOf = (tS: number): number => xAtTime(window, widthPx, warp?.place(tS) ?? tS);
      const left = Math.max(-2, xOf(shown.fromS));
      const right = Math.min(widthPx + 2, xOf(shown.toS));
      box.current.style.left = `${left}px`;
      box.current.style.width = `${Math.max(1, right - left)}px`;
      box.current.dataset.length = clockStretch(clock, shown);
    };
    write(selection);
    dragged.current = write;
    return () => {
      dragged.current = null;
    };
  }, [window, widthPx, selection, dragged, clock, warp]);

  return (
    <div ref={area} className={styles.overlay}>
      <div ref={box} className={styles.selection} hidden>
        <div className={styles.grip} data-edge="start" />
        <div className={styles.grip} data-edge="end" />
      </div>
      <div
        ref={line}
        className={styles.cursor}
        id="timeline-cursor"
        role="slider"
        tabIndex={0}
        aria-label={`Cursor, ${clock.name}`}
        aria-orientation="horizontal"
        aria-valuemin={session.fromS}
        aria-valuemax={session.fromS + windowSpanS(session)}
        aria-valuenow={session.fromS}
        aria-describedby="timeline-keys-hint"
      />
    </div>
  );
}
