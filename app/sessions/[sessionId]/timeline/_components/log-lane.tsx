'use client';

import { memo } from 'react';
import { placeLabels } from '@/lib/view/charts/label-layout';
import { xAtTime } from '@/lib/view/charts/time-window';
import type { LogMark } from '@/lib/view/log-mark';
import { logText } from '@/lib/view/timeline-readout';
import { Counts, LaneFrame, type LaneProps, None, ROOM, ROW_PX } from './lane-frame';
import styles from './lanes.module.css';

const LOG_ROWS = 3;

/** Entries of the logs: a mark each, its words where there is room, a count where there is none. */
export const LogLane = memo(function LogLane({ items, window, widthPx }: LaneProps<LogMark>) {
  const shown = items.filter((mark) => mark.tS >= window.fromS && mark.tS <= window.toS);
  // Few entries may say more of their words.
  const share = (widthPx * LOG_ROWS) / Math.max(1, shown.length) - 20;
  const layout = placeLabels(
    shown.map((mark) => ({
      id: mark.id,
      xPx: xAtTime(window, widthPx, mark.tS),
      text: logText(mark),
    })),
    { ...ROOM, widthPx, rows: LOG_ROWS, mostPx: Math.max(250, share) },
  );
  const rowOf = new Map(layout.labels.map((label) => [label.id, label]));
  const height = LOG_ROWS * ROW_PX + 23;
  return (
    <LaneFrame
      label={`${shown.length} entries of the logs, listed below.`}
      widthPx={widthPx}
      heightPx={height}
    >
      {shown.map((mark) => {
        const x = xAtTime(window, widthPx, mark.tS);
        const label = rowOf.get(mark.id);
        const foot = label === undefined ? height - 4 : (label.row + 1) * ROW_PX;
        return (
          <g key={mark.id} data-mark={mark.id} data-detail={logText(mark)} className={styles.act}>
            <path
              className={mark.kind === 'event' ? styles.eventLine : styles.saidLine}
              d={`M${x} ${label === undefined ? LOG_ROWS * ROW_PX + 2 : label.row * ROW_PX + 4}V${foot}`}
            />
            {label !== undefined && (
              <text
                className={mark.kind === 'event' ? styles.eventText : styles.text}
                x={label.xPx}
                y={label.row * ROW_PX + 16}
              >
                {label.text}
              </text>
            )}
          </g>
        );
      })}
      <Counts counts={layout.counts} yPx={LOG_ROWS * ROW_PX + 5} noun="entries" />
      {shown.length === 0 && <None heightPx={height} />}
    </LaneFrame>
  );
});
