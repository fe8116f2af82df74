import { FigureValue } from '@/app/_components/figure/figure-value';
import type { SeenView } from '@/lib/view/evidence-words';
import styles from './evidence-list.module.css';

type EvidenceListProps = Readonly<{ seen: readonly SeenView[] }>;

/** What shows that something happened: kind, instant, words and where they stand. */
export function EvidenceList({ seen }: EvidenceListProps) {
  return (
    <ul className={`plain ${styles.list}`}>
      {seen.map((one) => (
        <li key={one.key}>
          <span className={styles.kind}>{one.kind}</span> <FigureValue figure={one.time} />
          <span className={styles.words}>
            {one.words}
            {one.place !== null && <span className={styles.place}>{one.place}</span>}
          </span>
        </li>
      ))}
    </ul>
  );
}
