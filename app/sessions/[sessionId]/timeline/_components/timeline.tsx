'use client';

import dynamic from 'next/dynamic';
import { useEffect, useMemo, useReducer, useRef, useState } from 'react';
import { useChartColours } from '@/app/_components/charts/use-chart-colours';
import type { TimelineView } from '@/lib/view/timeline';
import { searchHits } from '@/lib/view/timeline-search';
import { timelineReducer } from '@/lib/view/timeline-state';
import { toldView } from '@/lib/view/timeline-told';
import { knownOf, type TimelineAddress } from '@/lib/view/timeline-url';
import { AxisChoice } from './axis-choice';
import { CursorBar } from './cursor-bar';
import { focusCursorOnArrival } from './cursor-focus';
import { makeCursorStore } from './cursor-store';
import { GoTo } from './go-to';
import { KeyHelp } from './key-help';
import { OverviewRow } from './lane-rows';
import { PictureButtons } from './picture-buttons';
import { makePlayerLink } from './player-link';
import { RecordingNote } from './recording-note';
import { SelectionPanel } from './selection-panel';
import { focusSheet, SideSheet } from './side-sheet';
import { StripArea } from './strip-area';
import styles from './timeline.module.css';
import { TimelineNotices } from './timeline-notices';
import { Toolbar } from './toolbar';
import { useAddress } from './use-address';
import { ClockProvider, useAxis } from './use-axis';
import { useChanges } from './use-changes';
import { useHistory } from './use-history';
import { usePlotWidth } from './use-plot-width';
import { useRates } from './use-rates';
import { useTimelineActs } from './use-timeline-acts';
import { useTraces } from './use-traces';
import { useTrail } from './use-trail';
import { WindowList } from './window-list';

/** Asked for only where there is a recording: nobody else waits for it. */
const Player = dynamic(() => import('./player').then(({ Player: loaded }) => loaded), {
  ssr: false,
  loading: () => <div className={styles.playerComing}>The player is being loaded.</div>,
});

const NO_RECORDING = 'No recording with a clock is attached to this session: Sources takes one.';

type TimelineProps = Readonly<{
  view: TimelineView;
  stamp: string;
  address: TimelineAddress;
  /** Strips that the address names and this session lacks. */
  unknown: readonly string[];
}>;

/** Everything on one axis: strips, the cursor's readings, the selection, and what is written of it. */
export function Timeline({ view: sent, stamp, address, unknown }: TimelineProps) {
  const { session, sessionId } = sent;
  const [state, dispatch] = useReducer(timelineReducer, { session, sheet: null, ...address });
  const { window, selection } = state;
  const [cursor] = useState(() =>
    makeCursorStore(address.selection?.fromS ?? address.window.fromS),
  );
  const [said, setSaid] = useState('');
  const help = useRef<HTMLDivElement>(null);
  const plot = usePlotWidth();
  const colours = useChartColours();
  const traces = useTraces(sent, state, plot.state === 'measured' ? plot.widthPx : null);
  const { range, keys, envelopes } = traces;
  const rates = useRates({ sessionId, cursor, keys: traces.measured });
  const axis = useAxis(sent, state, traces, plot.widthPx);
  const view = useMemo(() => toldView(sent, axis.clock), [sent, axis.clock]);
  const hits = useMemo(() => searchHits(view, state.sought), [view, state.sought]);
  const place = useMemo(() => ({ ...sent, clock: axis.clock }), [sent, axis.clock]);
  useAddress(state, knownOf(sent));
  const changes = useChanges(sessionId, stamp);
  const history = useHistory(sessionId, setSaid);
  const { step } = history;
  const [player] = useState(() => makePlayerLink(() => setSaid(NO_RECORDING)));
  const [playerSide, setPlayerSide] = useState<HTMLElement | null>(null);
  const trail = useTrail(window, dispatch, setSaid);
  const acts = useTimelineActs({
    player,
    trail: trail.step,
    view,
    hits,
    clock: axis.clock,
    state,
    dispatch,
    cursor,
    help,
    step,
    say: setSaid,
  });

  useEffect(() => {
    if (state.sheet !== null) focusSheet(state.sheet);
  }, [state.sheet]);
  useEffect(focusCursorOnArrival, []);

  const shared = { view, state, dispatch };
  return (
    <ClockProvider value={axis.clock}>
      <div
        className={styles.timeline}
        data-sheet={state.sheet === null ? 'closed' : 'open'}
        data-player={view.recordings.length > 0 ? 'there' : 'none'}
      >
        {/* biome-ignore lint/a11y/noStaticElementInteractions: keys reach the focused button inside */}
        <div className={styles.top} onKeyDown={acts.onKeyDown}>
          <h1 className="visually-hidden">Timeline of {view.title}</h1>
          <CursorBar
            cursor={cursor}
            approach={`/sessions/${encodeURIComponent(view.sessionId)}/approach`}
            zeroTaiNs={view.zeroTaiNs}
            log={view.log}
            range={range}
            answers={envelopes.answers}
            window={window}
          />
          <GoTo place={place} goTo={acts.goTo} />
          <Toolbar state={state} dispatch={dispatch} acts={acts} help={help} history={history.next}>
            <AxisChoice
              view={sent}
              axis={state.axis}
              cursor={cursor}
              dispatch={dispatch}
              say={setSaid}
            />
          </Toolbar>
          {view.recordings.length > 0 && (
            <Player
              recordings={view.recordings}
              log={view.log}
              {...{ session, window, cursor, dispatch }}
              link={player}
              side={playerSide}
              say={setSaid}
            />
          )}
        </div>
        <KeyHelp element={help} />
        <div className={styles.body}>
          <div className={styles.main}>
            <TimelineNotices
              {...{ envelopes, changes, unknown }}
              history={history.problem}
              say={setSaid}
            />
            <OverviewRow
              view={view}
              window={window}
              widthPx={plot.widthPx}
              range={range}
              answers={envelopes.answers}
              trail={trail}
              dispatch={dispatch}
            />
            <StripArea
              {...shared}
              axis={axis}
              hits={hits}
              acts={acts}
              traces={traces}
              cursor={cursor}
              rates={rates}
              plot={plot}
              colours={colours}
            />
            {view.catalogue.absent.map((sentence) => (
              <p key={sentence} className={styles.absent}>
                {sentence}
              </p>
            ))}
            <RecordingNote view={view} />
            <PictureButtons title={view.title} traces={traces} window={window} axis={axis} />
            <SelectionPanel
              sessionId={sessionId}
              place={place}
              contactS={view.contactS}
              selection={selection}
              window={window}
              keys={keys}
              dispatch={dispatch}
            />
            <WindowList view={view} window={window} acts={acts} dispatch={dispatch} />
          </div>
          <div className={styles.side}>
            <div ref={setPlayerSide} className={styles.playerSide} />
            {state.sheet !== null && (
              <SideSheet {...shared} {...{ place, hits, acts, history }} say={setSaid} />
            )}
          </div>
        </div>
        <p className="visually-hidden" aria-live="polite">
          {said}
        </p>
      </div>
    </ClockProvider>
  );
}
