import styles from './site-header.module.css';

/** The sign and the name, for inside a link to all sessions. */
export function Wordmark() {
  return (
    <>
      <svg viewBox="0 0 30 16" width="30" height="16" aria-hidden="true">
        <path className={styles.wake} d="M1 2 26 8 1 14" />
        <path className={styles.line} d="M1 8H26" />
        <circle className={styles.ship} cx="26" cy="8" r="2.5" />
      </svg>
      Wakeline
    </>
  );
}

/** What the link says to those who do not see it. */
export const WORDMARK_LABEL = 'Wakeline, all sessions';
