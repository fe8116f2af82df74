import Link from 'next/link';
import styles from '@/app/plans/_components/plans.module.css';
import { SessionLinks } from '@/app/plans/_components/session-links';
import type { VersionRow } from '@/lib/view/plans/register-view';

type VersionTableProps = Readonly<{ rows: readonly VersionRow[] }>;

/** Every version: who saved it, when and why, which sessions use it, and what can be done from it. */
export function VersionTable({ rows }: VersionTableProps) {
  const [newest] = rows;
  return (
    <section className="panel">
      <div className={styles.head}>
        <h2>Versions</h2>
        {newest !== undefined && (
          <Link className="button primary" href={newest.editHref}>
            Edit version {newest.number}
          </Link>
        )}
      </div>
      <table className="data">
        <thead>
          <tr>
            <th scope="col">version</th>
            <th scope="col">by, and when</th>
            <th scope="col">reason</th>
            <th scope="col">used by</th>
            <th scope="col">
              <span className="visually-hidden">what can be done</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.id}>
              <th scope="row" className="num">
                {row.number}
              </th>
              <td className="words">
                {row.author}
                <span className={styles.under}>{row.when}</span>
              </td>
              <td className="words">{row.reason}</td>
              <td className="words">
                {row.sessions.length === 0 && <span className="soft">no session</span>}
                <SessionLinks links={row.sessions} more={row.moreSessions} />
              </td>
              <td>
                <span className={`${styles.actions} no-print`}>
                  {row.compareHref !== null && <Link href={row.compareHref}>What changed</Link>}
                  <Link href={row.editHref}>Edit from it</Link>
                  <a href={row.exportHref} download>
                    YAML
                  </a>
                </span>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
