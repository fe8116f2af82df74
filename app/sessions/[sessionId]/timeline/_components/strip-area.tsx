'use client';

import { type Dispatch, useCallback, useMemo, useRef } from 'react';
import type { ChartColours } from '@/lib/view/charts/chart-colours';
import { timeTickCount } from '@/lib/view/charts/time-ticks';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import { STRIP_HEIGHTS } from '@/lib/view/strip-places';
import type { TimelineView } from '@/lib/view/timeline';
import type { SearchHit } from '@/lib/view/timeline-search';
import type { TimelineAction, TimelineState } from '@/lib/view/timeline-state';
import { placedView } from '@/lib/view/timeline-told';
import type { CursorStore } from './cursor-store';
import { LaneRows } from './lane-rows';
import { LaneTip } from './lane-tip';
import { Overlay } from './overlay';
import type { RatesStore } from './rates-store';
import { TimeAxis } from './time-axis';
import styles from './timeline.module.css';
import { TraceRow } from './trace-row';
import type { ShownAxis } from './use-axis';
import type { MeasuredWidth } from './use-plot-width';
import { useStripPointer } from './use-strip-pointer';
import type { TimelineActs } from './use-timeline-acts';
import type { Traces } from './use-traces';

type StripAreaProps = Readonly<{
  view: TimelineView;
  state: TimelineState;
  dispatch: Dispatch<TimelineAction>;
  axis: ShownAxis;
  hits: readonly SearchHit[];
  acts: TimelineActs;
  traces: Traces;
  cursor: CursorStore;
  rates: RatesStore;
  plot: MeasuredWidth;
  colours: ChartColours | null;
}>;

/** Lanes, traces and their axis under one cursor and one selection. */
export function StripArea(props: StripAreaProps) {
  const { view, state, dispatch, axis, hits, acts, traces, cursor, rates, plot, colours } = props;
  const { window, selection } = state;
  const { widthPx } = plot;
  const strips = useRef<HTMLDivElement>(null);
  const area = useRef<HTMLDivElement>(null);
  const dragged = useRef<((shown: TimeWindow | null) => void) | null>(null);
  const onStrips = useMemo(() => ({ ...acts.pointer, select: acts.selectWhile(dragged) }), [acts]);
  useStripPointer({ strips, area }, { window, widthPx, warp: axis.warp, selection }, onStrips);
  const placed = useMemo(() => placedView(view, axis.warp), [view, axis.warp]);
  const takeOff = useCallback((id: string) => dispatch({ kind: 'toggle-strip', id }), [dispatch]);
  const resize = useCallback(
    (id: string, heightPx: number) => dispatch({ kind: 'size-strip', id, heightPx }),
    [dispatch],
  );
  const ticks = timeTickCount(widthPx);
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: keys reach the focused cursor inside
    <div ref={strips} className={styles.strips} onKeyDown={acts.onKeyDown}>
      <LaneRows view={placed} window={window} widthPx={widthPx} ruler={plot.ruler} />
      {traces.shown.map((strip) => (
        <TraceRow
          key={strip.id}
          strip={strip}
          answers={traces.envelopes.answers}
          state={traces.envelopes.state}
          window={window}
          widthPx={plot.state === 'measured' ? widthPx : null}
          timeTickCount={ticks}
          axis={axis}
          bands={traces.bands}
          marks={traces.marks}
          colours={colours}
          cursor={cursor}
          rates={rates}
          takeOff={takeOff}
          heightPx={state.heights[strip.id] ?? STRIP_HEIGHTS.usual}
          resize={resize}
        />
      ))}
      {traces.shown.length === 0 && (
        <NoStrips usual={view.catalogue.defaultIds} dispatch={dispatch} />
      )}
      <div className={styles.axisRow}>
        <div className={styles.axisName}>{axis.name}</div>
        <TimeAxis window={window} widthPx={widthPx} axis={axis} hits={hits} />
      </div>
      <Overlay
        area={area}
        window={window}
        session={view.session}
        widthPx={widthPx}
        axis={axis}
        selection={selection}
        cursor={cursor}
        dragged={dragged}
      />
      <LaneTip strips={strips} />
      <p id="timeline-keys-hint" className="visually-hidden">
        Arrows move the cursor, Shift finely; question mark lists all keys.
      </p>
    </div>
  );
}

type NoStripsProps = Readonly<{ usual: readonly string[]; dispatch: Dispatch<TimelineAction> }>;

function NoStrips({ usual, dispatch }: NoStripsProps) {
  return (
    <p className={styles.noStrips}>
      {usual.length === 0 ? 'No trace can be drawn.' : 'No trace is put on.'}
      {usual.length > 0 && (
        <button
          type="button"
          className="button"
          onClick={() => dispatch({ kind: 'strips', strips: usual })}
        >
          Put the usual ones on
        </button>
      )}
    </p>
  );
}
