'use client';

import { type RefObject, useEffect, useRef } from 'react';
import { type TimeWindow, windowSpanS, xAtTime } from '@/lib/view/charts/time-window';
import { formatSessionTime, formatStretch } from '@/lib/view/format-time';
import type { CursorStore } from './cursor-store';
import styles from './timeline.module.css';

type OverlayProps = Readonly<{
  area: RefObject<HTMLDivElement | null>;
  window: TimeWindow;
  session: TimeWindow;
  widthPx: number;
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
  selection,
  cursor,
  dragged,
}: OverlayProps) {
  const line = useRef<HTMLDivElement>(null);
  const box = useRef<HTMLDivElement>(null);

  useEffect(() => {
    const write = (): void => {
      if (line.current === null) return;
      const tS = cursor.get();
      const x = xAtTime(window, widthPx, tS);
      line.current.style.transform = `translateX(${x}px)`;
      line.current.hidden = x < -0.5 || x > widthPx + 0.5;
      line.current.setAttribute('aria-valuenow', tS.toFixed(1));
      line.current.setAttribute('aria-valuetext', formatSessionTime(tS));
    };
    write();
    return cursor.subscribe(write);
  }, [window, widthPx, cursor]);

  useEffect(() => {
    const write = (shown: TimeWindow | null): void => {
      if (box.current === null) return;
      box.current.hidden = shown === null || shown.toS < window.fromS || shown.fromS > window.toS;
      if (shown === null) return;
      const left = Math.max(-2, xAtTime(window, widthPx, shown.fromS));
      const right = Math.min(widthPx + 2, xAtTime(window, widthPx, shown.toS));
      box.current.style.left = `${left}px`;
      box.current.style.width = `${Math.max(1, right - left)}px`;
      box.current.dataset.length = formatStretch(shown.fromS, shown.toS);
    };
    write(selection);
    dragged.current = write;
    return () => {
      dragged.current = null;
    };
  }, [window, widthPx, selection, dragged]);

  return (
    <div ref={area} className={styles.overlay}>
      <div ref={box} className={styles.selection} hidden />
      <div
        ref={line}
        className={styles.cursor}
        id="timeline-cursor"
        role="slider"
        tabIndex={0}
        aria-label="Cursor, session time"
        aria-orientation="horizontal"
        aria-valuemin={session.fromS}
        aria-valuemax={session.fromS + windowSpanS(session)}
        aria-valuenow={session.fromS}
        aria-describedby="timeline-keys-hint"
      />
    </div>
  );
}
