'use client';

import { useRef } from 'react';
import { STRIP_HEIGHTS } from '@/lib/view/strip-places';
import type { Strip } from '@/lib/view/timeline-strips';
import styles from './timeline.module.css';

type StripHandleProps = Readonly<{
  strip: Strip;
  heightPx: number;
  resize: (id: string, heightPx: number) => void;
}>;

const KEYS: Readonly<Record<string, number>> = {
  ArrowDown: STRIP_HEIGHTS.step,
  ArrowUp: -STRIP_HEIGHTS.step,
};

/** The lower edge of a strip: drag it, or move it with the arrow keys; Home gives the usual height. */
export function StripHandle({ strip, heightPx, resize }: StripHandleProps) {
  const drag = useRef<Readonly<{ y: number; heightPx: number }> | null>(null);
  return (
    // biome-ignore lint/a11y/useSemanticElements: a rule takes no focus and no keys, this edge does
    <div
      className={styles.handle}
      data-own-pointer
      role="separator"
      tabIndex={0}
      aria-orientation="horizontal"
      aria-label={`Height of ${strip.label}`}
      aria-valuemin={STRIP_HEIGHTS.least}
      aria-valuemax={STRIP_HEIGHTS.most}
      aria-valuenow={heightPx}
      onPointerDown={(event) => {
        event.currentTarget.setPointerCapture(event.pointerId);
        drag.current = { y: event.clientY, heightPx };
      }}
      onPointerMove={(event) => {
        if (drag.current === null) return;
        resize(strip.id, drag.current.heightPx + event.clientY - drag.current.y);
      }}
      onPointerUp={() => {
        drag.current = null;
      }}
      onPointerCancel={() => {
        drag.current = null;
      }}
      onDoubleClick={() => resize(strip.id, STRIP_HEIGHTS.usual)}
      onKeyDown={(event) => {
        const by = KEYS[event.key];
        if (by === undefined && event.key !== 'Home') return;
        event.preventDefault();
        event.stopPropagation();
        resize(strip.id, by === undefined ? STRIP_HEIGHTS.usual : heightPx + by);
      }}
    />
  );
}
