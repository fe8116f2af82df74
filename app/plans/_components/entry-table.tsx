import Link from 'next/link';
import type { VersionedKind } from '@/lib/core/session/file-identity';
import type { EntryRow } from '@/lib/view/plans/register-view';
import styles from './plans.module.css';
import { SessionLinks } from './session-links';

type EntryTableProps = Readonly<{
  kind: VersionedKind;
  title: string;
  rows: readonly EntryRow[];
}>;

const WORDS = {
  rules: {
    add: 'New rule set',
    none: 'No rule set yet. One comes with each session folder that names a rule file, or is written here.',
  },
  plan: {
    add: 'New plan',
    none: 'No plan yet. One comes with each session folder that names a plan, or is written here.',
  },
  template: {
    add: 'New template',
    none: 'No template yet. Without one a debrief is drafted in the program\u2019s own form.',
  },
} as const;

/** Every plan or rule set with its newest version, and the way to all of them. */
export function EntryTable({ kind, title, rows }: EntryTableProps) {
  return (
    <section className="panel" aria-label={title}>
      <div className={styles.head}>
        <h2>{title}</h2>
        <Link className="button" href={`/plans/${kind}/new`}>
          {WORDS[kind].add}
        </Link>
      </div>
      {rows.length === 0 ? (
        <p className="soft">{WORDS[kind].none}</p>
      ) : (
        <table className="data">
          <thead>
            <tr>
              <th scope="col">title</th>
              <th scope="col">newest</th>
              <th scope="col">by, and when</th>
              <th scope="col">reason</th>
              <th scope="col">used by</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.key}>
                <th scope="row">
                  <Link href={row.href}>{row.title}</Link>
                  <Earlier lines={row.earlier} />
                </th>
                <td className={styles.whole}>{row.newest}</td>
                <td className="words">
                  {row.author}
                  <span className={styles.under}>{row.when}</span>
                </td>
                <td className="words">{row.reason}</td>
                <td className="words">
                  <span className="soft">{row.use}</span>
                  <SessionLinks links={row.sessions} more={row.moreSessions} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}

function Earlier({ lines }: Readonly<{ lines: EntryRow['earlier'] }>) {
  if (lines.length === 0) return null;
  return (
    <details className={styles.under}>
      <summary>
        {lines.length === 1 ? 'one earlier version' : `${lines.length} earlier versions`}
      </summary>
      <ul className="plain">
        {lines.map(({ key, text }) => (
          <li key={key}>{text}</li>
        ))}
      </ul>
    </details>
  );
}
