'use client';

import type { Dispatch, ReactNode, RefObject } from 'react';
import { useCallback } from 'react';
import type { EnvelopeAnswer } from '@/lib/view/charts/envelope-wire';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import { plural } from '@/lib/view/format-number';
import type { TimelineView } from '@/lib/view/timeline';
import type { TimelineAction } from '@/lib/view/timeline-state';
import type { Strip } from '@/lib/view/timeline-strips';
import { BarLane } from './bar-lane';
import { FeedLane } from './feed-lane';
import { LogLane } from './log-lane';
import { OverviewStrip } from './overview-strip';
import { PhaseLane } from './phase-lane';
import { RemarkLane } from './remark-lane';
import styles from './timeline.module.css';
import type { Trail } from './use-trail';

type RowProps = Readonly<{
  name: string;
  notes: readonly string[];
  ruler?: RefObject<HTMLDivElement | null>;
  /** What else stands in its head. */
  more?: ReactNode;
  children: ReactNode;
}>;

function Row({ name, notes, ruler, more, children }: RowProps) {
  return (
    <div className={styles.row}>
      <div className={styles.head}>
        <div className={styles.name}>{name}</div>
        {notes.map((note) => (
          <div key={note} className={styles.note} title={note}>
            {note}
          </div>
        ))}
        {more}
      </div>
      <div ref={ruler} className={styles.plot}>
        {children}
      </div>
    </div>
  );
}

const TRAIL_WORDS = [
  ['back', '←', 'Back to the window before'],
  ['on', '→', 'On to the next window again'],
] as const;

function TrailButtons({ trail }: Readonly<{ trail: Trail }>) {
  return (
    <div className={styles.trail}>
      {TRAIL_WORDS.map(([way, sign, words]) => (
        <button
          key={way}
          type="button"
          aria-label={words}
          title={words}
          aria-disabled={trail.ends[way] === 'end'}
          onClick={() => trail.step(way)}
        >
          {sign}
        </button>
      ))}
    </div>
  );
}

type OverviewRowProps = Readonly<{
  view: TimelineView;
  window: TimeWindow;
  widthPx: number;
  range: Strip | null;
  answers: readonly EnvelopeAnswer[];
  trail: Trail;
  dispatch: Dispatch<TimelineAction>;
}>;

export function OverviewRow(props: OverviewRowProps) {
  const { view, window, widthPx, range, answers, trail, dispatch } = props;
  const show = useCallback(
    (next: TimeWindow) => dispatch({ kind: 'show', window: next }),
    [dispatch],
  );
  return (
    <Row name="Whole session" notes={[]} more={<TrailButtons trail={trail} />}>
      <OverviewStrip
        range={range}
        answers={answers}
        session={view.session}
        window={window}
        beyond={view.beyond}
        widthPx={widthPx}
        show={show}
      />
    </Row>
  );
}

type LaneRowsProps = Readonly<{
  view: TimelineView;
  window: TimeWindow;
  widthPx: number;
  ruler: RefObject<HTMLDivElement | null>;
}>;

/** The lanes over the traces, top to bottom: phases, logs, beyond limits, navigation, zones, states, data faults, remarks. */
export function LaneRows({ view, window, widthPx, ruler }: LaneRowsProps) {
  const lane = { window, widthPx };
  const unplanned = view.phases.filter((phase) => !phase.planned).length;
  return (
    <>
      <Row
        name="Phases"
        ruler={ruler}
        notes={[
          `${view.phases.length} flown`,
          ...(unplanned > 0 ? [`${unplanned} not planned`] : []),
        ]}
      >
        <PhaseLane items={view.phases} plan={view.plan} {...lane} />
      </Row>
      <Row name="Events and voice" notes={view.logNotes}>
        <LogLane items={view.log} {...lane} />
      </Row>
      <Row name="Beyond limits" notes={[plural(view.beyond.length, 'stretch', 'stretches')]}>
        <BarLane items={view.beyond} look="beyond" noun="stretch beyond a limit" {...lane} />
      </Row>
      {view.feeds.length > 0 && (
        <Row name="Navigation" notes={[plural(view.feeds.length, 'stretch', 'stretches')]}>
          <FeedLane items={view.feeds} what="Navigation" {...lane} />
        </Row>
      )}
      {view.zones.map(({ name, source, bars }) => (
        <Row key={`zone ${name}`} name={name} notes={[source]}>
          <FeedLane items={bars} what={name} none="not inside in this window" {...lane} />
        </Row>
      ))}
      {view.states.map(({ name, source, bars }) => (
        <Row key={`${source} ${name}`} name={name} notes={[source]}>
          <FeedLane items={bars} what={name} {...lane} />
        </Row>
      ))}
      <Row name="Data faults" notes={[plural(view.faults.length, 'fault')]}>
        <BarLane items={view.faults} look="fault" noun="data fault" {...lane} />
      </Row>
      <Row name="Findings" notes={['and annotations']}>
        <RemarkLane items={view.remarks} {...lane} />
      </Row>
    </>
  );
}
