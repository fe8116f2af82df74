'use client';

import { memo } from 'react';
import { axisTicks } from '@/lib/view/charts/time-ticks';
import {
  AXIS_WIDTH_PX,
  MARGIN_RIGHT_PX,
  type TimeWindow,
  xAtTime,
} from '@/lib/view/charts/time-window';
import styles from './time-axis.module.css';

type TimeAxisProps = Readonly<{ window: TimeWindow; widthPx: number; tickCount: number }>;

/** Session time under the strips; the ticks are those of every strip's graticule. */
export const TimeAxis = memo(function TimeAxis({ window, widthPx, tickCount }: TimeAxisProps) {
  return (
    <svg
      className={styles.axis}
      width={widthPx + AXIS_WIDTH_PX + MARGIN_RIGHT_PX}
      height={26}
      aria-hidden="true"
    >
      {axisTicks(window, tickCount).map((tick) => {
        const x = AXIS_WIDTH_PX + xAtTime(window, widthPx, tick.at);
        return (
          <g key={tick.at}>
            <path d={`M${x} 0v5`} />
            <text x={x} y={19}>
              {tick.text}
            </text>
          </g>
        );
      })}
    </svg>
  );
});
