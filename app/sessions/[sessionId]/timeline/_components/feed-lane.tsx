'use client';

import { memo } from 'react';
import { fitText } from '@/lib/view/charts/label-layout';
import { xAtTime } from '@/lib/view/charts/time-window';
import type { FeedBar } from '@/lib/view/navigation/feed-bars';
import { FONT_PX, LaneFrame, type LaneProps, None, visible } from './lane-frame';
import styles from './lanes.module.css';

const HEIGHT_PX = 29;

/** `none` is said where no stretch lies in the window. */
type FeedLaneProps = LaneProps<FeedBar> & Readonly<{ what: string; none?: string }>;

/** Which sensor fed the solution, what state a channel held, or which zone the chaser was inside: a named block for each stretch. */
export const FeedLane = memo(function FeedLane({
  items,
  what,
  none = 'no rows in this window',
  window,
  widthPx,
}: FeedLaneProps) {
  const shown = visible(items, window);
  const label = shown.map((bar) => bar.detail).join('. ');
  return (
    <LaneFrame
      label={label === '' ? `${what}: ${none}.` : label}
      widthPx={widthPx}
      heightPx={HEIGHT_PX}
    >
      {shown.map((bar) => {
        const left = Math.max(-2, xAtTime(window, widthPx, bar.fromS));
        const right = Math.min(widthPx + 2, xAtTime(window, widthPx, bar.toS));
        const width = Math.max(2, right - left);
        return (
          <g key={bar.id} data-bar={bar.id} data-detail={bar.detail} className={styles.act}>
            <rect className={styles[bar.tone]} x={left} y={4} width={width} height={21} />
            <text className={styles.text} x={Math.max(0, left) + 6} y={19}>
              {fitText(
                bar.label,
                Math.min(widthPx, left + width) - Math.max(0, left) - 10,
                FONT_PX,
              )}
            </text>
          </g>
        );
      })}
      {shown.length === 0 && <None heightPx={HEIGHT_PX} />}
    </LaneFrame>
  );
});
