import type { IssueRow } from '@/lib/view/import-view';
import styles from './issue-table.module.css';

type IssueTableProps = Readonly<{ rows: readonly IssueRow[] }>;

/** Everything that was wrong or worth saying, each with its place. */
export function IssueTable({ rows }: IssueTableProps) {
  const hasFound = rows.some((row) => row.found !== '');
  const hasExpected = rows.some((row) => row.expected !== '');
  return (
    <table className="data">
      <thead>
        <tr>
          <th scope="col">what</th>
          <th scope="col">file</th>
          <th scope="col" className="right">
            line
          </th>
          <th scope="col">key</th>
          {hasFound && <th scope="col">found</th>}
          {hasExpected && <th scope="col">expected</th>}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.key}>
            <th scope="row" className={styles.what}>
              <span className={styles[row.severity]}>{row.severity}</span> {row.message}
            </th>
            <td>
              <code className={styles.file}>{row.file}</code>
            </td>
            <td className="right num">{row.line}</td>
            <td>
              <code className={styles.place}>{row.keyPath}</code>
            </td>
            {hasFound && <td className={styles.place}>{row.found}</td>}
            {hasExpected && <td className={styles.place}>{row.expected}</td>}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
