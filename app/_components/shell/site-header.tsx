import Link from 'next/link';
import type { ReactNode } from 'react';
import styles from './site-header.module.css';

type SiteHeaderProps = Readonly<{
  /** What stands beside the wordmark: a session's title, or the site's own links. */
  children?: ReactNode;
}>;

/** The head of every page: the wordmark, and what the page puts beside it. */
export function SiteHeader({ children }: SiteHeaderProps) {
  return (
    <header className={styles.header}>
      <Link className={styles.wordmark} href="/" aria-label="Wakeline, all sessions">
        <svg viewBox="0 0 30 16" width="30" height="16" aria-hidden="true">
          <path className={styles.wake} d="M1 2 26 8 1 14" />
          <path className={styles.line} d="M1 8H26" />
          <circle className={styles.ship} cx="26" cy="8" r="2.5" />
        </svg>
        Wakeline
      </Link>
      {children}
    </header>
  );
}
