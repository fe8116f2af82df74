import Link from 'next/link';
import { VerdictMark } from '@/app/_components/marks/verdict-mark';
import type { SideCell, TrialSessionView, TrialTable } from '@/lib/view/plans/trial-view';
import styles from './plans.module.css';

type TrialSessionsProps = Readonly<{ sessions: readonly TrialSessionView[] }>;

/** Each session with what would read differently; now and with the draft side by side. */
export function TrialSessions({ sessions }: TrialSessionsProps) {
  return sessions.map((session) => (
    <details
      key={session.key}
      className={styles.session}
      open={session.differs && sessions.length <= 3}
    >
      <summary>
        <strong>{session.title}</strong>
        <span className={session.differs ? 'unsure' : 'soft'}>{session.summary}</span>
      </summary>
      <div className={styles.tables}>
        {session.remarks.map((remark) => (
          <p key={remark} className="beyond">
            {remark}
          </p>
        ))}
        {session.tables.map((table) => (
          <SideBySide key={table.title} table={table} />
        ))}
        <p>
          <Link href={session.href} prefetch={false}>
            Open the session
          </Link>
        </p>
      </div>
    </details>
  ));
}

/** So many rows that read as before stand among the others; more would hide them. */
const MOST_ALIKE = 12;
/** Of more rows that differ, these stand open: what follows is not pushed off the page. */
const MOST_DIFFERING = 40;

function SideBySide({ table: { title, what, rows } }: Readonly<{ table: TrialTable }>) {
  const alike = rows.filter(({ differs }) => !differs);
  const differing = rows.filter(({ differs }) => differs);
  if (alike.length <= MOST_ALIKE && differing.length <= MOST_DIFFERING) {
    return <Rows title={title} what={what} rows={rows} />;
  }
  return (
    <div className="stack">
      {differing.length > 0 && (
        <Rows title={title} what={what} rows={differing.slice(0, MOST_DIFFERING)} />
      )}
      {differing.length > MOST_DIFFERING && (
        <details>
          <summary>
            {title}: {differing.length - MOST_DIFFERING} more that differ
          </summary>
          <Rows title={`${title}, more`} what={what} rows={differing.slice(MOST_DIFFERING)} />
        </details>
      )}
      {alike.length > 0 && (
        <details>
          <summary>
            {title}: {alike.length} that read as before
          </summary>
          <Rows title={`${title} that read as before`} what={what} rows={alike} />
        </details>
      )}
    </div>
  );
}

function Rows({ title, what, rows }: TrialTable) {
  return (
    <table className="data">
      <caption>{title}</caption>
      <thead>
        <tr>
          <th scope="col">{what}</th>
          <th scope="col">now</th>
          <th scope="col">with the draft</th>
          <th scope="col" className="right">
            by how much
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.key} className={row.differs ? styles.differs : styles.same}>
            <th scope="row">
              {row.name} {row.differs && <span className={styles.mark}>differs</span>}
            </th>
            <td className="words">
              <Cell cell={row.before} />
            </td>
            <td className="words">
              <Cell cell={row.after} />
            </td>
            <td className={`right num ${styles.parts}`}>{row.difference}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Cell({ cell }: Readonly<{ cell: SideCell }>) {
  return (
    <span className={styles.cell}>
      {cell.verdict !== null && <VerdictMark verdict={cell.verdict} />} {cell.text}
    </span>
  );
}
