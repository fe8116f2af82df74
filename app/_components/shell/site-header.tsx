import Link from 'next/link';
import type { ReactNode } from 'react';
import styles from './site-header.module.css';
import { WORDMARK_LABEL, Wordmark } from './wordmark';

type SiteHeaderProps = Readonly<{
  /** What stands beside the wordmark: a session's title, or the site's own links. */
  children: ReactNode;
}>;

/** The head of every page: the wordmark, and what the page puts beside it. */
export function SiteHeader({ children }: SiteHeaderProps) {
  return (
    <header className={styles.header}>
      <Link className={styles.wordmark} href="/" prefetch={false} aria-label={WORDMARK_LABEL}>
        <Wordmark />
      </Link>
      {children}
    </header>
  );
}
