import Link from 'next/link';
import type { SessionRow } from '@/lib/view/sessions-view';
import { VerdictMark } from '../marks/verdict-mark';
import { RemoveSession } from './remove-session';
import styles from './session-table.module.css';

type SessionTableProps = Readonly<{ rows: readonly SessionRow[] }>;

/** All sessions, the newest flight first. */
export function SessionTable({ rows }: SessionTableProps) {
  if (rows.length === 0) {
    return (
      <section className="panel">
        <h2>No session yet</h2>
        <p className="soft">
          Drop a session folder, a .zip of one or its loose files anywhere on this page. With a{' '}
          <code>session.yaml</code> among them nothing else is asked.
        </p>
      </section>
    );
  }
  return (
    <section className="panel">
      <table className="data">
        <thead>
          <tr>
            <th scope="col">session</th>
            <th scope="col">day</th>
            <th scope="col">kind</th>
            <th scope="col">contact</th>
            <th scope="col">rules</th>
            <th scope="col" className="right">
              findings
            </th>
            <th scope="col" className="right">
              published
            </th>
            <th scope="col">
              <span className="visually-hidden">remove</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.id}>
              <th scope="row">
                <Link href={row.href}>{row.title}</Link>{' '}
                {row.isDemo && <span className={styles.demo}>invented demo</span>}
              </th>
              <td className={styles.day}>{row.day}</td>
              <td>{row.kind}</td>
              <td className={/\d/.test(row.contact) ? 'num' : 'soft'}>{row.contact}</td>
              <td>
                <Verdicts row={row} />
              </td>
              <td className="right num">{row.findings}</td>
              <td className="right num">{row.published}</td>
              <td className={styles.remove}>
                <RemoveSession row={row} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Verdicts({ row }: Readonly<{ row: SessionRow }>) {
  if (row.rulesNote !== null) return <span className="soft">{row.rulesNote}</span>;
  return (
    <ul className={`plain ${styles.verdicts}`}>
      {row.verdicts.map(({ verdict, count }) => (
        <li key={verdict}>
          <span className="num">{count}</span> <VerdictMark verdict={verdict} />
        </li>
      ))}
    </ul>
  );
}
