import { useEffect, useRef } from 'react';
import styles from './timeline.module.css';
import type { ChangesState } from './use-changes';
import type { Envelopes } from './use-envelopes';

type TimelineNoticesProps = Readonly<{
  envelopes: Envelopes;
  changes: ChangesState;
  /** Why a step back or forth was not taken; empty otherwise. */
  history: string;
  /** Strips that the address names and this session lacks. */
  unknown: readonly string[];
  say: (text: string) => void;
}>;

/** Says that what is drawn may be old or is not all that was asked for, and what can be done about it. */
export function TimelineNotices(props: TimelineNoticesProps) {
  const { envelopes, changes, history, unknown, say } = props;
  const isGone = envelopes.state === 'gone' || changes === 'gone';
  const isLost = !isGone && (envelopes.state === 'no-answer' || changes === 'lost');
  const wasLost = useRef(false);
  useEffect(() => {
    if (wasLost.current && !isLost && !isGone) say('The server answers again.');
    wasLost.current = isLost;
  }, [isLost, isGone, say]);
  return (
    <>
      {history !== '' && (
        <p className={styles.notice} role="alert">
          {history}
        </p>
      )}
      {isLost && (
        <div className={styles.notice} role="alert">
          <span>
            The server does not answer. What is drawn was read before and may be coarse or old, and
            nothing can be saved. It is asked again by itself.
          </span>
          <button type="button" className="button" onClick={envelopes.retry}>
            Ask now
          </button>
        </div>
      )}
      {isGone && (
        <div className={styles.notice} role="alert">
          This session is no longer kept, or its samples are not. What is drawn is what was read
          before.
        </div>
      )}
      {unknown.length > 0 && (
        <p className={styles.notice} role="status">
          {unknownSentence(unknown)}
        </p>
      )}
    </>
  );
}

function unknownSentence(unknown: readonly string[]): string {
  return unknown.length === 1
    ? `The address names the strip ${unknown[0]}, which this session does not have.`
    : `The address names ${unknown.length} strips that this session does not have: ${unknown.join(', ')}.`;
}
