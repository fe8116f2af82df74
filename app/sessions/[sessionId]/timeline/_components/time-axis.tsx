'use client';

import { memo } from 'react';
import {
  AXIS_WIDTH_PX,
  MARGIN_RIGHT_PX,
  type TimeWindow,
  xAtTime,
} from '@/lib/view/charts/time-window';
import type { SearchHit } from '@/lib/view/timeline-search';
import styles from './time-axis.module.css';
import type { ShownAxis } from './use-axis';

type TimeAxisProps = Readonly<{
  window: TimeWindow;
  widthPx: number;
  axis: ShownAxis;
  hits: readonly SearchHit[];
}>;

/** The axis under the strips; the ticks are those of every strip's graticule. */
export const TimeAxis = memo(function TimeAxis({ window, widthPx, axis, hits }: TimeAxisProps) {
  const shown = hits.flatMap(({ id, fromS, toS }) => {
    if (toS < window.fromS || fromS > window.toS) return [];
    const atS = Math.max(window.fromS, fromS);
    return { id, x: AXIS_WIDTH_PX + xAtTime(window, widthPx, axis.warp?.place(atS) ?? atS) };
  });
  return (
    <svg
      className={styles.axis}
      width={widthPx + AXIS_WIDTH_PX + MARGIN_RIGHT_PX}
      height={26}
      aria-hidden="true"
    >
      {axis.ticks.map((tick) => {
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
      {shown.map(({ id, x }) => (
        <path key={id} className={styles.hit} d={`M${x} 1l5 8h-10z`} />
      ))}
    </svg>
  );
});
