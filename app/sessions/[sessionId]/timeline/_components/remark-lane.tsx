'use client';

import { memo } from 'react';
import { stackStretches } from '@/lib/view/charts/label-layout';
import { xAtTime } from '@/lib/view/charts/time-window';
import type { RemarkBar } from '@/lib/view/timeline';
import { Counts, LaneFrame, type LaneProps, None, ROOM, visible } from './lane-frame';
import styles from './lanes.module.css';

const REMARK_ROWS = 2;
const REMARK_ROW_PX = 25;

/** Findings and annotations: a bracket over the stretch, its words under it. */
export const RemarkLane = memo(function RemarkLane({
  items,
  window,
  widthPx,
}: LaneProps<RemarkBar>) {
  const shown = visible(items, window);
  const layout = stackStretches(
    shown.map((bar) => ({
      id: bar.id,
      fromPx: xAtTime(window, widthPx, bar.fromS),
      toPx: xAtTime(window, widthPx, bar.toS),
      text: bar.label,
    })),
    { ...ROOM, widthPx, rows: REMARK_ROWS, mostTextPx: 320 },
  );
  const byId = new Map(shown.map((bar) => [bar.id, bar]));
  const height = REMARK_ROWS * REMARK_ROW_PX + (layout.counts.length > 0 ? 20 : 5);
  const label = shown.map((bar) => bar.detail).join('. ');
  return (
    <LaneFrame
      label={label === '' ? 'No finding or annotation in this window.' : label}
      widthPx={widthPx}
      heightPx={height}
    >
      {layout.placed.map((each) => {
        const bar = byId.get(each.id);
        if (bar === undefined) return null;
        const y = each.row * REMARK_ROW_PX + 4;
        const to = Math.max(each.toPx, each.fromPx + 4);
        return (
          <g key={bar.id} data-bar={bar.id} data-detail={bar.detail} className={styles.act}>
            <rect
              className={styles.hit}
              x={each.fromPx}
              y={y}
              width={to - each.fromPx}
              height={REMARK_ROW_PX - 2}
            />
            <path
              className={bar.kind === 'finding' ? styles.findingBracket : styles.remarkBracket}
              d={`M${each.fromPx + 0.75} ${y + 6}V${y + 1}H${to - 0.75}V${y + 6}`}
            />
            <text
              className={bar.kind === 'finding' ? styles.findingText : styles.remarkText}
              x={each.fromPx + 2}
              y={y + 18}
            >
              {each.text}
            </text>
          </g>
        );
      })}
      <Counts
        counts={layout.counts}
        yPx={REMARK_ROWS * REMARK_ROW_PX + 1}
        noun="findings and annotations"
      />
      {shown.length === 0 && <None heightPx={height} />}
    </LaneFrame>
  );
});
