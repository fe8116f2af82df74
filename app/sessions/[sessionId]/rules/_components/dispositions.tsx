import type { DispositionView } from '@/lib/view/dispositions-view';
import styles from './rule-table.module.css';

type DispositionsProps = Readonly<{ list: readonly DispositionView[] }>;

/** What people decided about a rule, beside its verdict. */
export function Dispositions({ list }: DispositionsProps) {
  if (list.length === 0) return null;
  return (
    <ul className={`plain ${styles.dispositions}`}>
      {list.map((one) => (
        <li key={one.key}>
          <strong>{one.text}</strong>
          {one.amendedTo !== null && <span className={styles.description}>{one.amendedTo}</span>}
          {one.entry !== null && <span className={styles.description}>{one.entry}</span>}
          {one.by !== '' && <span className={styles.description}>{one.by}</span>}
          {one.fault !== null && <span className="beyond">{one.fault}</span>}
        </li>
      ))}
    </ul>
  );
}
