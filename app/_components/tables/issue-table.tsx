import type { IssueRow } from '@/lib/view/import-view';
import styles from './issue-table.module.css';

type IssueTableProps = Readonly<{ rows: readonly IssueRow[] }>;

/** Everything that was wrong or worth saying, each with its place. */
export function IssueTable({ rows }: IssueTableProps) {
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
          <th scope="col">found</th>
          <th scope="col">expected</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.key}>
            <th scope="row" className={styles.what}>
              <span className={styles[row.severity]}>{row.severity}</span> {row.message}
            </th>
            <td>
              <code className={styles.place}>{row.file}</code>
            </td>
            <td className="right num">{row.line}</td>
            <td>
              <code className={styles.place}>{row.keyPath}</code>
            </td>
            <td className={styles.place}>{row.found}</td>
            <td className={styles.place}>{row.expected}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
