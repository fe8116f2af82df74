'use client';

import { memo } from 'react';
import { type BarLabel, placeBarLabels } from '@/lib/view/charts/label-layout';
import { xAtTime } from '@/lib/view/charts/time-window';
import type { LaneBar } from '@/lib/view/timeline';
import { LaneFrame, type LaneProps, None, ROOM, visible } from './lane-frame';
import styles from './lanes.module.css';

type BarLaneProps = LaneProps<LaneBar> & Readonly<{ look: 'beyond' | 'fault'; noun: string }>;

const BAR_LANE_PX = 25;

/** Stretches as blocks with their name to the right where there is room; an instant keeps three pixels. */
export const BarLane = memo(function BarLane({ items, look, noun, window, widthPx }: BarLaneProps) {
  const shown = [...visible(items, window)].sort((a, b) => a.toS - b.toS);
  const boxes = shown.map((bar) => {
    const from = Math.max(-1, xAtTime(window, widthPx, bar.fromS));
    const to = Math.min(widthPx + 1, xAtTime(window, widthPx, bar.toS));
    return { bar, from: Math.min(from, to - 3), to };
  });
  const labels = placeBarLabels(
    boxes.map(({ bar, from, to }) => ({ id: bar.id, fromPx: from, toPx: to, text: bar.label })),
    { ...ROOM, widthPx, rows: 1 },
  );
  const detail = shown.map((bar) => bar.detail).join('. ');
  return (
    <LaneFrame
      label={detail === '' ? `No ${noun} in this window.` : detail}
      widthPx={widthPx}
      heightPx={BAR_LANE_PX}
    >
      <defs>
        <pattern id="fault-hatch" width="6" height="6" patternUnits="userSpaceOnUse">
          <path className={styles.hatchLine} d="M0 6L6 0" />
        </pattern>
      </defs>
      {boxes.map(({ bar, from, to }) => (
        <g key={bar.id} data-bar={bar.id} data-detail={bar.detail} className={styles.act}>
          <rect
            className={look === 'beyond' ? styles.beyond : styles.faultEdge}
            fill={look === 'beyond' ? undefined : 'url(#fault-hatch)'}
            x={from}
            y={4}
            width={to - from}
            height={BAR_LANE_PX - 8}
          />
        </g>
      ))}
      {labels.map((label) => (
        <text
          key={label.id}
          data-bar={label.id}
          data-detail={shown.find((bar) => bar.id === label.id)?.detail}
          className={`${textOf(label, look)} ${styles.act}`}
          x={label.xPx}
          y={BAR_LANE_PX / 2 + 4.5}
        >
          {label.text}
        </text>
      ))}
      {shown.length === 0 && <None heightPx={BAR_LANE_PX} />}
    </LaneFrame>
  );
});

function textOf({ place }: BarLabel, look: BarLaneProps['look']): string | undefined {
  if (place === 'on') return look === 'beyond' ? styles.onBeyond : styles.onFault;
  return look === 'beyond' ? styles.beyondText : styles.soft;
}
