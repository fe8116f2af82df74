'use client';

import { memo } from 'react';
import { fitText } from '@/lib/view/charts/label-layout';
import { xAtTime } from '@/lib/view/charts/time-window';
import type { LaneBar, PhaseBar } from '@/lib/view/timeline';
import { FONT_PX, LaneFrame, type LaneProps, visible } from './lane-frame';
import styles from './lanes.module.css';

type PhaseLaneProps = LaneProps<PhaseBar> & Readonly<{ plan: readonly LaneBar[] }>;

/** Flown above, planned under it. Unplanned runs have a dashed frame, each motion its own pattern. */
export const PhaseLane = memo(function PhaseLane({ items, plan, window, widthPx }: PhaseLaneProps) {
  const box = (bar: LaneBar) => {
    const left = Math.max(-2, xAtTime(window, widthPx, bar.fromS));
    const right = Math.min(widthPx + 2, xAtTime(window, widthPx, bar.toS));
    return { left, width: Math.max(1, right - left) };
  };
  const label = visible(items, window)
    .map((bar) => bar.detail)
    .join('. ');
  return (
    <LaneFrame label={`Phases flown. ${label}`} widthPx={widthPx} heightPx={54}>
      <PhasePatterns />
      {visible(items, window).map((bar) => {
        const { left, width } = box(bar);
        return (
          <g key={bar.id} data-bar={bar.id} data-detail={bar.detail} className={styles.act}>
            <rect className={styles[bar.motion]} x={left} y={4} width={width} height={25} />
            <rect
              className={styles.pattern}
              fill={`url(#phase-${bar.motion})`}
              x={left}
              y={4}
              width={width}
              height={25}
            />
            <rect
              className={bar.planned ? styles.edge : styles.edgeUnplanned}
              x={left}
              y={4}
              width={width}
              height={25}
            />
            <text className={styles.text} x={Math.max(0, left) + 6} y={21}>
              {fitText(
                bar.label,
                Math.min(widthPx, left + width) - Math.max(0, left) - 10,
                FONT_PX,
              )}
            </text>
          </g>
        );
      })}
      {items.length === 0 && (
        <text className={styles.none} x={8} y={21}>
          none told apart: that takes range in telemetry and a plan
        </text>
      )}
      {visible(plan, window).map((bar) => {
        const { left, width } = box(bar);
        return (
          <g key={bar.id} data-detail={bar.detail}>
            <rect className={styles.planned} x={left} y={33} width={width} height={18} />
            <text className={styles.soft} x={Math.max(0, left) + 6} y={46.5}>
              {fitText(
                `plan: ${bar.label}`,
                Math.min(widthPx, left + width) - Math.max(0, left) - 10,
                FONT_PX,
              )}
            </text>
          </g>
        );
      })}
    </LaneFrame>
  );
});

function PhasePatterns() {
  return (
    <defs>
      <pattern id="phase-hold" width="8" height="8" patternUnits="userSpaceOnUse">
        <path className={styles.patternLine} d="M0 4h8" />
      </pattern>
      <pattern id="phase-closing" width="1" height="1" patternUnits="userSpaceOnUse" />
      <pattern id="phase-opening" width="8" height="8" patternUnits="userSpaceOnUse">
        <path className={styles.patternLine} d="M0 0l8 8" />
      </pattern>
      <pattern id="phase-crossing" width="6" height="6" patternUnits="userSpaceOnUse">
        <circle className={styles.patternDot} cx="2" cy="2" r="0.9" />
      </pattern>
    </defs>
  );
}
