'use client';

import { useCallback, useEffect, useMemo, useReducer, useRef, useState } from 'react';
import { useChartColours } from '@/app/_components/charts/use-chart-colours';
import { axisName, timeTickCount } from '@/lib/view/charts/time-ticks';
import { AXIS_WIDTH_PX, MARGIN_RIGHT_PX } from '@/lib/view/charts/time-window';
import type { TimelineView } from '@/lib/view/timeline';
import { timelineReducer } from '@/lib/view/timeline-state';
import { quantityStripOf, stripBands, stripMarks } from '@/lib/view/timeline-strips';
import { knownOf, type TimelineAddress } from '@/lib/view/timeline-url';
import { CursorBar } from './cursor-bar';
import { makeCursorStore } from './cursor-store';
import { KeyHelp } from './key-help';
import { LaneRows, OverviewRow } from './lane-rows';
import { LaneTip } from './lane-tip';
import { Overlay } from './overlay';
import { SelectionPanel } from './selection-panel';
import { SideSheet } from './side-sheet';
import { TimeAxis } from './time-axis';
import styles from './timeline.module.css';
import { Toolbar } from './toolbar';
import { TraceRow } from './trace-row';
import { useAddress } from './use-address';
import { useChanges } from './use-changes';
import { useEnvelopes } from './use-envelopes';
import { useStripPointer } from './use-strip-pointer';
import { useTimelineActs } from './use-timeline-acts';
import { useWidth } from './use-width';
import { WindowList } from './window-list';

type TimelineProps = Readonly<{ view: TimelineView; address: TimelineAddress }>;

/** Until the page has been measured. */
const WIDTH_BEFORE_PX = 1160;

export function Timeline({ view, address }: TimelineProps) {
  const { session, catalogue } = view;
  const [state, dispatch] = useReducer(timelineReducer, { session, sheet: null, ...address });
  const { window, selection } = state;
  const [cursor] = useState(() =>
    makeCursorStore(address.selection?.fromS ?? address.window.fromS),
  );
  const [said, setSaid] = useState('');
  const strips = useRef<HTMLDivElement>(null);
  const area = useRef<HTMLDivElement>(null);
  const ruler = useRef<HTMLDivElement>(null);
  const dragged = useRef<((shown: typeof selection) => void) | null>(null);
  const help = useRef<HTMLDivElement>(null);
  const cellPx = useWidth(ruler, WIDTH_BEFORE_PX);
  const widthPx = Math.max(120, cellPx - AXIS_WIDTH_PX - MARGIN_RIGHT_PX);
  const colours = useChartColours();

  const shown = useMemo(
    () => state.strips.flatMap((id) => catalogue.strips.find((strip) => strip.id === id) ?? []),
    [state.strips, catalogue],
  );
  const range = quantityStripOf(catalogue, 'range');
  const keys = useMemo(
    () => [
      ...new Set([
        ...(range?.series[0] === undefined ? [] : [range.series[0].key]),
        ...shown.flatMap((strip) => strip.series.map((series) => series.key)),
      ]),
    ],
    [shown, range],
  );
  const envelopes = useEnvelopes({
    sessionId: view.sessionId,
    session,
    window,
    keys,
    pixels: widthPx,
  });
  const bands = useMemo(() => stripBands(view), [view]);
  const marks = useMemo(() => stripMarks(view), [view]);
  const ticks = timeTickCount(widthPx);

  useAddress(state, knownOf(view));
  const changes = useChanges(view.sessionId);
  const acts = useTimelineActs({ view, state, dispatch, cursor, help, say: setSaid });
  const onStrips = useMemo(() => ({ ...acts.pointer, select: acts.selectWhile(dragged) }), [acts]);
  useStripPointer({ strips, area }, { window, widthPx }, onStrips);
  const takeOff = useCallback((id: string) => dispatch({ kind: 'toggle-strip', id }), []);

  useEffect(() => {
    if (state.sheet === null) return;
    document.getElementById('timeline-sheet')?.focus();
  }, [state.sheet]);

  return (
    <div className={styles.timeline} data-sheet={state.sheet === null ? 'closed' : 'open'}>
      <div className={styles.top}>
        <h1 className="visually-hidden">Timeline of {view.title}</h1>
        <CursorBar
          cursor={cursor}
          zeroTaiNs={view.zeroTaiNs}
          log={view.log}
          range={range}
          answers={envelopes.answers}
          window={window}
        />
        <Toolbar state={state} dispatch={dispatch} acts={acts} help={help} />
      </div>
      <KeyHelp element={help} />
      <div className={styles.body}>
        <div className={styles.main}>
          {(envelopes.state === 'no-answer' || changes === 'lost') && (
            <div className={styles.notice} role="alert">
              The server does not answer: what is drawn may be coarse or old. Asking again.
              <button type="button" className="button" onClick={envelopes.retry}>
                Ask now
              </button>
            </div>
          )}
          {(envelopes.state === 'gone' || changes === 'gone') && (
            <div className={styles.notice} role="alert">
              This session is no longer kept, or its samples are not. What is drawn is what was read
              before.
            </div>
          )}
          <OverviewRow
            view={view}
            window={window}
            widthPx={widthPx}
            range={range}
            answers={envelopes.answers}
            dispatch={dispatch}
          />
          {/* biome-ignore lint/a11y/noStaticElementInteractions: keys reach the focused cursor inside */}
          <div ref={strips} className={styles.strips} onKeyDown={acts.onKeyDown}>
            <LaneRows view={view} window={window} widthPx={widthPx} ruler={ruler} />
            {shown.map((strip) => (
              <TraceRow
                key={strip.id}
                strip={strip}
                answers={envelopes.answers}
                state={envelopes.state}
                window={window}
                widthPx={widthPx}
                timeTickCount={ticks}
                bands={bands}
                marks={marks}
                colours={colours}
                cursor={cursor}
                takeOff={takeOff}
              />
            ))}
            {shown.length === 0 && (
              <p className={styles.noStrips}>
                {catalogue.defaultIds.length === 0
                  ? 'No trace can be drawn.'
                  : 'No trace is put on.'}
                {catalogue.defaultIds.length > 0 && (
                  <button
                    type="button"
                    className="button"
                    onClick={() => dispatch({ kind: 'strips', strips: catalogue.defaultIds })}
                  >
                    Put the usual ones on
                  </button>
                )}
              </p>
            )}
            <div className={styles.axisRow}>
              <div className={styles.axisName}>{axisName(window, ticks)}</div>
              <TimeAxis window={window} widthPx={widthPx} tickCount={ticks} />
            </div>
            <Overlay
              area={area}
              window={window}
              session={session}
              widthPx={widthPx}
              selection={selection}
              cursor={cursor}
              dragged={dragged}
            />
            <LaneTip strips={strips} />
            <p id="timeline-keys-hint" className="visually-hidden">
              Arrows move the cursor, Shift finely; question mark lists all keys.
            </p>
          </div>
          {catalogue.absent.map((sentence) => (
            <p key={sentence} className={styles.absent}>
              {sentence}
            </p>
          ))}
          <SelectionPanel
            sessionId={view.sessionId}
            session={session}
            selection={selection}
            window={window}
            keys={keys}
            dispatch={dispatch}
          />
          <WindowList view={view} window={window} acts={acts} dispatch={dispatch} />
        </div>
        {state.sheet !== null && (
          <SideSheet view={view} state={state} dispatch={dispatch} say={setSaid} />
        )}
      </div>
      <p className="visually-hidden" aria-live="polite">
        {said}
      </p>
    </div>
  );
}
