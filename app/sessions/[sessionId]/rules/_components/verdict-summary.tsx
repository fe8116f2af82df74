import { VerdictMark } from '@/app/_components/marks/verdict-mark';
import type { RulesView } from '@/lib/view/rules-view';
import styles from './verdict-summary.module.css';

type VerdictSummaryProps = Readonly<{ view: RulesView }>;

/** How many rules came out how. */
export function VerdictSummary({ view }: VerdictSummaryProps) {
  if (view.counts.length === 0) return null;
  return (
    <section className={`panel ${styles.summary}`} aria-label="Verdicts, counted">
      <ul className={`plain ${styles.counts}`}>
        {view.counts.map(({ verdict, count }) => (
          <li key={verdict}>
            <span className={styles.count}>{count}</span>
            <VerdictMark verdict={verdict} />
          </li>
        ))}
      </ul>
    </section>
  );
}
