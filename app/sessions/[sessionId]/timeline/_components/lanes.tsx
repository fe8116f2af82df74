'use client';

import { memo, type ReactNode } from 'react';
import {
  type CountMarker,
  fitText,
  placeBarLabels,
  placeLabels,
  stackStretches,
} from '@/lib/view/charts/label-layout';
import {
  AXIS_WIDTH_PX,
  MARGIN_RIGHT_PX,
  type TimeWindow,
  xAtTime,
} from '@/lib/view/charts/time-window';
import type { LaneBar, LogMark, PhaseBar, RemarkBar } from '@/lib/view/timeline';
import { logText } from '@/lib/view/timeline-readout';
import styles from './lanes.module.css';

type LaneProps<Item> = Readonly<{ items: readonly Item[]; window: TimeWindow; widthPx: number }>;

const FONT_PX = 13;
const ROW_PX = 18;
const ROOM = { fontPx: FONT_PX, gapPx: 5, leastPx: 96 };

type FrameProps = Readonly<{
  label: string;
  widthPx: number;
  heightPx: number;
  children: ReactNode;
}>;

/** The sheet of one lane, its plot between the same edges as every strip. */
function LaneFrame({ label, widthPx, heightPx, children }: FrameProps) {
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

function visible<Item extends Readonly<{ fromS: number; toS: number }>>(
  items: readonly Item[],
  window: TimeWindow,
): readonly Item[] {
  return items.filter((item) => item.toS >= window.fromS && item.fromS <= window.toS);
}

type CountsProps = Readonly<{ counts: readonly CountMarker[]; yPx: number; noun: string }>;

function Counts({ counts, yPx, noun }: CountsProps) {
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
    </LaneFrame>
  );
});

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
          className={look === 'beyond' ? styles.beyondText : styles.soft}
          x={label.xPx}
          y={BAR_LANE_PX / 2 + 4.5}
        >
          {label.text}
        </text>
      ))}
      {shown.length === 0 && (
        <text className={styles.none} x={8} y={BAR_LANE_PX / 2 + 4.5}>
          none in this window
        </text>
      )}
    </LaneFrame>
  );
});

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
      {shown.length === 0 && (
        <text className={styles.none} x={8} y={height / 2 + 4.5}>
          none in this window
        </text>
      )}
    </LaneFrame>
  );
});
