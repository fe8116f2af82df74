import type { CorrectionRow } from '@/lib/view/clock/correction-list';
import styles from './corrections.module.css';
import { UndoButton } from './undo-button';

type CorrectionListProps = Readonly<{
  rows: readonly CorrectionRow[];
  sessionId: string;
  /** Said where there is none. */
  empty: string;
  title?: string;
}>;

/** What people said; what was undone stays on record, struck through. */
export function CorrectionList({
  rows,
  sessionId,
  empty,
  title = 'Corrections',
}: CorrectionListProps) {
  return (
    <section className="panel">
      <h2>{title}</h2>
      {rows.length === 0 ? (
        <p className="soft">{empty}</p>
      ) : (
        <div className={styles.scroll}>
          <table className="data">
            <thead>
              <tr>
                <th scope="col">what</th>
                <th scope="col">why</th>
                <th scope="col">who</th>
                <th scope="col">when</th>
                <th scope="col">
                  <span className="visually-hidden">undo</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {rows.map((row) => (
                <tr key={row.key}>
                  <td className="words">
                    {row.undone === null ? row.what : <s>{row.what}</s>}
                    {row.fault !== undefined && <span className={styles.fault}>{row.fault}</span>}
                  </td>
                  <td className="words">{row.undone === null ? row.why : <s>{row.why}</s>}</td>
                  <td className="words">{row.who}</td>
                  <td className={styles.when}>
                    {row.when}
                    {row.undone !== null && <span className={styles.undone}>{row.undone}</span>}
                  </td>
                  <td className="right">
                    <UndoButton sessionId={sessionId} row={row} />
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </section>
  );
}
