import type { ReactNode } from 'react';
import styles from './describe.module.css';

type ScrollBoxProps = Readonly<{ label: string; children: ReactNode }>;

/** A part that is wider than the page and scrolls by itself. */
export function ScrollBox({ label, children }: ScrollBoxProps) {
  return (
    <section
      className={styles.rows}
      aria-label={label}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls must be reachable by key
      tabIndex={0}
    >
      {children}
    </section>
  );
}
