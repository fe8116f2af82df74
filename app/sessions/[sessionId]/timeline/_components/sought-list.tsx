'use client';

import Link from 'next/link';
import type { Dispatch } from 'react';
import { FigureValue } from '@/app/_components/figure/figure-value';
import { plural } from '@/lib/view/format-number';
import { SMALL_TRACE, type SmallTrace, type SoughtView } from '@/lib/view/timeline-sought';
import type { TimelineAction } from '@/lib/view/timeline-state';
import styles from './search-sheet.module.css';
import { useClock } from './use-axis';
import type { TimelineActs } from './use-timeline-acts';

type SoughtListProps = Readonly<{
  found: SoughtView;
  sessionId: string;
  acts: TimelineActs;
  dispatch: Dispatch<TimelineAction>;
}>;

/** Stretches with a small trace each; those of this session are gone to, others open their timeline. */
export function SoughtList({ found, sessionId, acts, dispatch }: SoughtListProps) {
  const clock = useClock();
  const total = found.sessions.reduce((sum, each) => sum + each.count, 0);
  return (
    <div className={styles.sought}>
      <p role="status">
        {found.asked}: {total === 0 ? 'nowhere.' : plural(total, 'stretch', 'stretches')}
      </p>
      {found.sessions.map((session) => (
        <div key={session.sessionId}>
          {found.sessions.length > 1 && (
            <h4>
              {session.title}, {session.count}
            </h4>
          )}
          <ul>
            {session.rows.map((row) => (
              <li key={row.fromS}>
                <Picture trace={row.trace} />
                <div>
                  {session.sessionId === sessionId ? (
                    <button
                      type="button"
                      onClick={() => {
                        const stretch = { fromS: row.fromS, toS: row.toS };
                        acts.goTo(row.fromS);
                        dispatch({ kind: 'select', selection: stretch });
                        dispatch({ kind: 'frame', stretch });
                      }}
                    >
                      {clock.text(row.fromS)}
                    </button>
                  ) : (
                    <Link href={row.href}>at {row.fromS.toFixed(1)} s of its session</Link>
                  )}
                  <span>{row.lasts}, farthest </span>
                  <FigureValue figure={row.worst} />
                </div>
              </li>
            ))}
          </ul>
          {session.count > session.rows.length && (
            <p className="soft">The first {session.rows.length} are shown.</p>
          )}
        </div>
      ))}
    </div>
  );
}

/** The channel about the stretch; the words beside it say the same. */
function Picture({ trace }: Readonly<{ trace: SmallTrace }>) {
  const { widthPx, heightPx } = SMALL_TRACE;
  return (
    <svg className={styles.picture} width={widthPx} height={heightPx} aria-hidden="true">
      <rect
        className={styles.there}
        x={trace.fromX}
        width={Math.max(2, trace.toX - trace.fromX)}
        height={heightPx}
      />
      {trace.limitY !== null && (
        <path className={styles.limit} d={`M0 ${trace.limitY}H${widthPx}`} />
      )}
      <path className={styles.trace} d={trace.path} />
    </svg>
  );
}
