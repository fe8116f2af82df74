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

type RowProps = Readonly<{
  name: string;
  notes: readonly string[];
  ruler?: RefObject<HTMLDivElement | null>;
  children: ReactNode;
}>;

function Row({ name, notes, ruler, children }: RowProps) {
  return (
    <div className={styles.row}>
      <div className={styles.head}>
        <div className={styles.name}>{name}</div>
        {notes.map((note) => (
          <div key={note} className={styles.note} title={note}>
            {note}
          </div>
        ))}
      </div>
      <div ref={ruler} className={styles.plot}>
        {children}
      </div>
    </div>
  );
}

type OverviewRowProps = Readonly<{
  view: TimelineView;
  window: TimeWindow;
  widthPx: number;
  range: Strip | null;
  answers: readonly EnvelopeAnswer[];
  dispatch: Dispatch<TimelineAction>;
}>;

export function OverviewRow({ view, window, widthPx, range, answers, dispatch }: OverviewRowProps) {
  const show = useCallback(
    (next: TimeWindow) => dispatch({ kind: 'show', window: next }),
    [dispatch],
  );
  return (
    <Row name="Whole session" notes={[]}>
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

/** The lanes over the traces, top to bottom: phases, logs, beyond limits, navigation, data faults, remarks. */
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
          <FeedLane items={view.feeds} {...lane} />
        </Row>
      )}
      <Row name="Data faults" notes={[plural(view.faults.length, 'fault')]}>
        <BarLane items={view.faults} look="fault" noun="data fault" {...lane} />
      </Row>
      <Row name="Findings" notes={['and annotations']}>
        <RemarkLane items={view.remarks} {...lane} />
      </Row>
    </>
  );
}
