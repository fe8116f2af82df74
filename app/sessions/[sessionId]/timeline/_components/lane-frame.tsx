'use client';

import type { ReactNode } from 'react';
import type { CountMarker } from '@/lib/view/charts/label-layout';
import { AXIS_WIDTH_PX, MARGIN_RIGHT_PX, type TimeWindow } from '@/lib/view/charts/time-window';
import styles from './lanes.module.css';

export type LaneProps<Item> = Readonly<{
  items: readonly Item[];
  window: TimeWindow;
  widthPx: number;
}>;

export const FONT_PX = 13;
export const ROW_PX = 18;
export const ROOM = { fontPx: FONT_PX, gapPx: 5, leastPx: 96 };

type FrameProps = Readonly<{
  label: string;
  widthPx: number;
  heightPx: number;
  children: ReactNode;
}>;

/** The sheet of one lane, its plot between the same edges as every strip. */
export function LaneFrame({ label, widthPx, heightPx, children }: FrameProps) {
  return (
    <svg
      className={styles.lane}
      width={widthPx + AXIS_WIDTH_PX + MARGIN_RIGHT_PX}
      height={heightPx}
      role="img"
      aria-label={label}
    >
      <svg aria-hidden="true" x={AXIS_WIDTH_PX} width={widthPx} height={heightPx}>
        <rect className={styles.sheet} width={widthPx} height={heightPx} />
        {children}
      </svg>
      <rect
        className={styles.frame}
        x={AXIS_WIDTH_PX + 0.5}
        y={0.5}
        width={Math.max(0, widthPx - 1)}
        height={heightPx - 1}
      />
    </svg>
  );
}

/** A lane without anything in the window says so: an empty one could be one that was not read. */
export function None({ heightPx }: Readonly<{ heightPx: number }>) {
  return (
    <text className={styles.none} x={8} y={heightPx / 2 + 4.5}>
      none in this window
    </text>
  );
}

export function visible<Item extends Readonly<{ fromS: number; toS: number }>>(
  items: readonly Item[],
  window: TimeWindow,
): readonly Item[] {
  return items.filter((item) => item.toS >= window.fromS && item.fromS <= window.toS);
}

type CountsProps = Readonly<{ counts: readonly CountMarker[]; yPx: number; noun: string }>;

export function Counts({ counts, yPx, noun }: CountsProps) {
  return counts.map((count) => (
    <g
      key={count.ids[0]}
      className={styles.count}
      data-ids={count.ids.join(' ')}
      data-detail={`${count.ids.length} ${noun} here: zoom in to read them`}
    >
      <rect x={count.xPx} y={yPx} width={count.widthPx} height={16} rx={8} />
      <text x={count.xPx + count.widthPx / 2} y={yPx + 12}>
        {count.ids.length}
      </text>
    </g>
  ));
}
