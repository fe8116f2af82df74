import Link from 'next/link';
import type { TouchedNotice } from '@/lib/view/debrief/touched-notice';
import styles from './document.module.css';

/** That figures have changed since, and where to see which. */
export function TouchedLine({ notice }: Readonly<{ notice: TouchedNotice | null }>) {
  if (notice === null) return null;
  return (
    <p className={styles.touched}>
      {notice.text} <Link href={notice.href}>See what changed</Link>
    </p>
  );
}
