import type { ReactNode } from 'react';
import styles from './plain-page.module.css';
import { SiteHeader } from './site-header';

type PlainPageProps = Readonly<{ title: string; children: ReactNode }>;

/** A page that has only something to say: nothing found, something went wrong. */
export function PlainPage({ title, children }: PlainPageProps) {
  return (
    <>
      <SiteHeader />
      <main className={styles.main} id="main" tabIndex={-1}>
        <h1>{title}</h1>
        {children}
      </main>
    </>
  );
}
