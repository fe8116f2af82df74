'use client';

import { memo, type PointerEvent as ReactPointerEvent, useMemo, useRef } from 'react';
import type { EnvelopeAnswer } from '@/lib/view/charts/envelope-wire';
import { overviewPath } from '@/lib/view/charts/overview-path';
import { stripPlot } from '@/lib/view/charts/strip-plot';
import {
  AXIS_WIDTH_PX,
  MARGIN_RIGHT_PX,
  type TimeWindow,
  timeAtX,
  windowSpanS,
  xAtTime,
} from '@/lib/view/charts/time-window';
import type { LaneBar } from '@/lib/view/timeline';
import type { Strip } from '@/lib/view/timeline-strips';
import styles from './overview-strip.module.css';

type OverviewStripProps = Readonly<{
  range: Strip | null;
  answers: readonly EnvelopeAnswer[];
  session: TimeWindow;
  window: TimeWindow;
  beyond: readonly LaneBar[];
  widthPx: number;
  show: (window: TimeWindow) => void;
}>;

const HEIGHT_PX = 46;
const HANDLE_PX = 8;

type Grip = 'from' | 'to' | 'whole' | 'new';
type Drag = Readonly<{ grip: Grip; startS: number; window: TimeWindow }>;

/** The whole session with a window on it: drag the window, its ends, or a new one. */
export const OverviewStrip = memo(function OverviewStrip(props: OverviewStripProps) {
  const { range, answers, session, window, beyond, widthPx, show } = props;
  const drag = useRef<Drag | null>(null);
  const plot = useRef<SVGSVGElement>(null);
  const path = useMemo(() => {
    if (range === null) return '';
    const measured = { ...range, series: range.series.slice(0, 1) };
    const own = {
      strip: measured,
      window: session,
      timeTickCount: 1,
      answers,
      bands: [],
      marks: [],
    };
    return overviewPath(stripPlot(own).plot, { widthPx, heightPx: HEIGHT_PX, padPx: 5 });
  }, [range, answers, session, widthPx]);
  const left = xAtTime(session, widthPx, window.fromS);
  const right = xAtTime(session, widthPx, window.toS);

  const timeOf = (event: ReactPointerEvent): number => {
    const box = plot.current?.getBoundingClientRect();
    return timeAtX(session, widthPx, event.clientX - (box?.left ?? 0));
  };
  const down = (event: ReactPointerEvent<SVGSVGElement>): void => {
    if (event.button !== 0) return;
    event.currentTarget.setPointerCapture(event.pointerId);
    const startS = timeOf(event);
    const x = xAtTime(session, widthPx, startS);
    const isWhole = windowSpanS(window) >= windowSpanS(session);
    let grip: Grip = 'new';
    if (Math.abs(x - left) <= HANDLE_PX) grip = 'from';
    else if (Math.abs(x - right) <= HANDLE_PX) grip = 'to';
    else if (x > left && x < right && !isWhole) grip = 'whole';
    drag.current = { grip, startS, window };
  };
  const move = (event: ReactPointerEvent): void => {
    const { current } = drag;
    if (current === null) return;
    const tS = timeOf(event);
    const before = current.window;
    if (current.grip === 'whole') {
      const byS = tS - current.startS;
      show({ fromS: before.fromS + byS, toS: before.toS + byS });
      return;
    }
    const anchorS =
      current.grip === 'from' ? before.toS : current.grip === 'to' ? before.fromS : current.startS;
    if (Math.abs(tS - anchorS) < windowSpanS(session) * 0.002) return;
    show({ fromS: Math.min(tS, anchorS), toS: Math.max(tS, anchorS) });
  };
  const up = (): void => {
    drag.current = null;
  };

  return (
    <svg
      className={styles.overview}
      data-own-pointer=""
      width={widthPx + AXIS_WIDTH_PX + MARGIN_RIGHT_PX}
      height={HEIGHT_PX}
      role="img"
      aria-label="Range over the whole session, with the window that the strips show. The window is set with plus, minus, Home and Page keys, or by the fields of the selection."
      onPointerDown={down}
      onPointerMove={move}
      onPointerUp={up}
      onPointerCancel={up}
    >
      <svg aria-hidden="true" ref={plot} x={AXIS_WIDTH_PX} width={widthPx} height={HEIGHT_PX}>
        <rect className={styles.sheet} width={widthPx} height={HEIGHT_PX} />
        <path className={styles.range} d={path} />
        {beyond.map((bar) => (
          <rect
            key={bar.id}
            className={styles.beyond}
            x={xAtTime(session, widthPx, bar.fromS) - 1}
            y={HEIGHT_PX - 6}
            width={Math.max(3, ((bar.toS - bar.fromS) / windowSpanS(session)) * widthPx)}
            height={5}
          />
        ))}
        <rect className={styles.outside} x={0} width={Math.max(0, left)} height={HEIGHT_PX} />
        <rect
          className={styles.outside}
          x={right}
          width={Math.max(0, widthPx - right)}
          height={HEIGHT_PX}
        />
        <rect
          className={styles.brush}
          x={left + 1}
          y={1}
          width={Math.max(2, right - left - 2)}
          height={HEIGHT_PX - 2}
        />
        {[left + 1, right - 5].map((x, index) => (
          <rect
            key={index === 0 ? 'from' : 'to'}
            className={styles.handle}
            x={x}
            y={HEIGHT_PX / 2 - 9}
            width={4}
            height={18}
            rx={1.5}
          />
        ))}
      </svg>
    </svg>
  );
});
