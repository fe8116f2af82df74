import type { ReactNode } from 'react';
import styles from './plain-page.module.css';
import header from './site-header.module.css';
import { WORDMARK_LABEL, Wordmark } from './wordmark';

type PlainPageProps = Readonly<{ title: string; children: ReactNode }>;

/**
 * A page that has only something to say: nothing found, something went wrong. Every page brings it
 * along in case of need, so its links are plain ones: the router's own would come with it twice, and
 * after a fault a fresh load is the better start.
 */
export function PlainPage({ title, children }: PlainPageProps) {
  return (
    <>
      <header className={header.header}>
        <a className={header.wordmark} href="/" aria-label={WORDMARK_LABEL}>
          <Wordmark />
        </a>
      </header>
      <main className={styles.main} id="main" tabIndex={-1}>
        <h1>{title}</h1>
        {children}
      </main>
    </>
  );
}
