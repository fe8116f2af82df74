import Link from 'next/link';
import { VerdictMark } from '@/app/_components/marks/verdict-mark';
import type { VerdictChoice } from '@/lib/view/rules-view';
import styles from './verdict-summary.module.css';

type VerdictSummaryProps = Readonly<{ choices: readonly VerdictChoice[] }>;

/** How many rules came out how; each count leads to its own rules alone. */
export function VerdictSummary({ choices }: VerdictSummaryProps) {
  if (choices.length === 0) return null;
  return (
    <nav className={`panel ${styles.summary}`} aria-label="Verdicts, counted">
      <ul className={`plain ${styles.counts}`}>
        {choices.map(({ verdict, count, href, isChosen }) => (
          <li key={verdict ?? 'all'}>
            <Link
              className={styles.choice}
              href={href}
              aria-current={isChosen ? 'true' : undefined}
              prefetch={false}
              scroll={false}
            >
              <span className={styles.count}>{count}</span>{' '}
              {verdict === null ? 'all rules' : <VerdictMark verdict={verdict} />}
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  );
}
