import Link from 'next/link';
import type { PublishedRow } from '@/lib/view/debrief/published-view';
import styles from './published.module.css';

type PublishedTableProps = Readonly<{ rows: readonly PublishedRow[]; query: string }>;

const STATE_TONE: Readonly<Record<PublishedRow['state'], string>> = {
  newest: '',
  superseded: 'unsure',
  withdrawn: 'beyond',
  'stands again': '',
};

/** Every publication with its number, revision and hash; newest first. */
export function PublishedTable({ rows, query }: PublishedTableProps) {
  if (rows.length === 0 && query !== '') {
    return <p className="panel">Nothing that was published holds all of these words.</p>;
  }
  if (rows.length === 0) {
    return (
      <p className="panel">
        Nothing has been published yet. A debrief is drafted and published on a session’s Debrief
        page.
      </p>
    );
  }
  return (
    <div className="panel">
      <div className={styles.scroll}>
        <table className="data">
          <thead>
            <tr>
              <th scope="col">debrief</th>
              <th scope="col">title</th>
              <th scope="col">session</th>
              <th scope="col">published</th>
              <th scope="col">state</th>
              <th scope="col">SHA-256</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.href}>
                <th scope="row">
                  <Link href={row.href}>{row.label}</Link>
                </th>
                <td className="words">{row.title}</td>
                <td className="words">
                  {row.session}
                  {row.invented && !row.session.includes('invented') && (
                    <span className="soft"> (invented demo)</span>
                  )}
                </td>
                <td>
                  {row.published}
                  {row.approved !== '' && <div className="soft">{row.approved}</div>}
                </td>
                <td className={STATE_TONE[row.state]}>
                  {row.state}
                  {row.reason !== '' && <span className="soft">: {row.reason}</span>}
                  {row.restored && <span className="soft"> (a withdrawal was taken back)</span>}
                </td>
                <td>
                  <code className={styles.hash}>{row.sha256}</code>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </div>
  );
}
