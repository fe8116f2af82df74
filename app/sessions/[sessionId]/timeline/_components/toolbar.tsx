'use client';

import type { Dispatch, ReactNode, RefObject } from 'react';
import type { HistoryWay } from '@/lib/view/timeline-history';
import { type TimelineStop, ZOOM_STEP } from '@/lib/view/timeline-keys';
import type { TimelineAction, TimelineState } from '@/lib/view/timeline-state';
import styles from './toolbar.module.css';
import type { TimelineActs } from './use-timeline-acts';

type ToolbarProps = Readonly<{
  state: TimelineState;
  dispatch: Dispatch<TimelineAction>;
  acts: TimelineActs;
  help: RefObject<HTMLElement | null>;
  /** What the next step back or forth would touch; null where there is none. */
  history: Readonly<Record<HistoryWay, string | null>>;
  /** What else stands in the bar: the choice of the axis. */
  children: ReactNode;
}>;

const SEARCH = { kind: 'open', sheet: { kind: 'search' } } as const;

const WAYS: readonly (readonly [way: HistoryWay, word: string])[] = [
  ['undo', 'Undo'],
  ['redo', 'Redo'],
];

const STOPS: readonly Readonly<{ stop: TimelineStop; label: string; name: string }>[] = [
  { stop: 'phase', label: 'Phase', name: 'phase' },
  { stop: 'event', label: 'Log entry', name: 'log entry' },
  { stop: 'exceedance', label: 'Beyond limit', name: 'stretch beyond a limit' },
  { stop: 'finding', label: 'Finding', name: 'finding or annotation' },
];

/** Steps to the next thing, zoom, what is put on, and what is written about the selection. */
export function Toolbar({ state, dispatch, acts, help, history, children }: ToolbarProps) {
  return (
    <div className={styles.toolbar} role="toolbar" aria-label="Timeline">
      {STOPS.map(({ stop, label, name }) => (
        <span key={stop} className={styles.pair}>
          <button
            type="button"
            aria-label={`Previous ${name}`}
            onClick={() => acts.run({ kind: 'go', stop, direction: -1 })}
          >
            ‹
          </button>
          <span className={styles.pairName} aria-hidden="true">
            {label}
          </span>
          <button
            type="button"
            aria-label={`Next ${name}`}
            onClick={() => acts.run({ kind: 'go', stop, direction: 1 })}
          >
            ›
          </button>
        </span>
      ))}
      <span className={styles.pair}>
        <button
          type="button"
          aria-label="Zoom out"
          onClick={() => acts.run({ kind: 'zoom', factor: ZOOM_STEP })}
        >
          −
        </button>
        <button
          type="button"
          aria-label="Whole session"
          className={styles.word}
          onClick={() => acts.run({ kind: 'whole-session' })}
        >
          Whole
        </button>
        <button
          type="button"
          aria-label="Zoom in"
          onClick={() => acts.run({ kind: 'zoom', factor: 1 / ZOOM_STEP })}
        >
          +
        </button>
      </span>
      <button
        type="button"
        className={styles.single}
        aria-pressed={state.sheet?.kind === 'strips'}
        onClick={() =>
          dispatch(
            state.sheet?.kind === 'strips'
              ? { kind: 'close' }
              : { kind: 'open', sheet: { kind: 'strips' } },
          )
        }
      >
        Channels
      </button>
      <button
        type="button"
        className={styles.single}
        aria-pressed={state.sheet?.kind === 'search'}
        onClick={() => dispatch(state.sheet?.kind === 'search' ? { kind: 'close' } : SEARCH)}
      >
        Search
      </button>
      {children}
      <button
        type="button"
        className={styles.single}
        aria-label="? lists all keys"
        title="All keys"
        onClick={() => help.current?.togglePopover()}
      >
        ?
      </button>
      <span className={styles.pair}>
        {WAYS.map(([way, word]) => (
          <button
            key={way}
            type="button"
            aria-disabled={history[way] === null}
            title={history[way] === null ? undefined : `${word}: ${history[way]}`}
            onClick={() => acts.run({ kind: 'history', way })}
          >
            {word}
          </button>
        ))}
      </span>
      <button
        type="button"
        className={styles.single}
        onClick={() => acts.run({ kind: 'write', what: 'annotation' })}
      >
        Annotate
      </button>
      <button
        type="button"
        className={styles.single}
        onClick={() => acts.run({ kind: 'write', what: 'question' })}
      >
        Ask the crew
      </button>
      <button
        type="button"
        className={styles.primary}
        onClick={() => acts.run({ kind: 'write', what: 'finding' })}
      >
        Write a finding
      </button>
    </div>
  );
}
