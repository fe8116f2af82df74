import Link from 'next/link';
import type { FindingRow } from '@/lib/view/findings-view';
import styles from './summary-tables.module.css';

type FindingListProps = Readonly<{ rows: readonly FindingRow[]; href: string }>;

/** Findings, gravest first. */
export function FindingList({ rows, href }: FindingListProps) {
  return (
    <section className="panel">
      <h2>Findings</h2>
      {rows.length === 0 ? (
        <p className="soft">None yet. Select a stretch on the timeline and write what was seen.</p>
      ) : (
        <table className="data">
          <thead>
            <tr>
              <th scope="col" className="right">
                no.
              </th>
              <th scope="col">title</th>
              <th scope="col">severity</th>
              <th scope="col">state</th>
              <th scope="col">when</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.number}>
                <td className="right num">{row.number}</td>
                <th scope="row">
                  <Link className={styles.quiet} href={row.href}>
                    {row.title}
                  </Link>
                </th>
                <td className={row.tone}>{row.severity}</td>
                <td>{row.state}</td>
                <td>
                  <Link className="num" href={row.timelineHref} prefetch={false}>
                    {row.when}
                  </Link>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <p className="panel-note no-print">
        <Link href={href}>Findings</Link>, to filter and to edit
      </p>
    </section>
  );
}
