import styles from './timeline.module.css';
import type { ChangesState } from './use-changes';
import type { Envelopes } from './use-envelopes';

type TimelineNoticesProps = Readonly<{
  envelopes: Envelopes;
  changes: ChangesState;
  /** Why a step back or forth was not taken; empty otherwise. */
  history: string;
}>;

/** Says that what is drawn may be old, and what can be done about it. */
export function TimelineNotices({ envelopes, changes, history }: TimelineNoticesProps) {
  const isLost = envelopes.state === 'no-answer' || changes === 'lost';
  const isGone = envelopes.state === 'gone' || changes === 'gone';
  return (
    <>
      {history !== '' && (
        <p className={styles.notice} role="alert">
          {history}
        </p>
      )}
      {isLost && (
        <div className={styles.notice} role="alert">
          The server does not answer: what is drawn may be coarse or old. Asking again.
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
    </>
  );
}
