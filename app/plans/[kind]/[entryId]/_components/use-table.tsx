import Link from 'next/link';
import type { InputKind } from '@/lib/core/session/file-identity';
import type { UseRow } from '@/lib/view/plans/register-view';
import { UseForm } from './use-form';

type Version = Readonly<{ id: string; number: number }>;

type UseTableProps = Readonly<{
  kind: InputKind;
  versions: readonly Version[];
  own: readonly UseRow[];
  others: readonly UseRow[];
}>;

/** Which version each session uses, and the way to put another in use. */
export function UseTable({ kind, versions, own, others }: UseTableProps) {
  return (
    <section className="panel">
      <h2>Sessions</h2>
      {own.length === 0 ? (
        <p className="soft">No session uses it.</p>
      ) : (
        <Rows kind={kind} versions={versions} rows={own} />
      )}
      {others.length > 0 && (
        <details>
          <summary>Put it in use for another session ({others.length})</summary>
          <Rows kind={kind} versions={versions} rows={others} />
        </details>
      )}
      <p className="panel-note">
        A session that is given another version is computed again; its page of changes then says
        what reads differently. Published debriefs stay as they are. Going back to a former version
        is the same act.
      </p>
    </section>
  );
}

type RowsProps = Readonly<{
  kind: InputKind;
  versions: readonly Version[];
  rows: readonly UseRow[];
}>;

function Rows({ kind, versions, rows }: RowsProps) {
  return (
    <table className="data">
      <thead>
        <tr>
          <th scope="col">session</th>
          <th scope="col">uses</th>
          <th scope="col">use another version</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.sessionId}>
            <th scope="row">
              <Link href={row.href} prefetch={false}>
                {row.title}
              </Link>
            </th>
            <td>
              {row.usedText}
              {row.chosen !== null && (
                <>
                  <br />
                  <small>
                    {row.chosen.by}: {row.chosen.reason}
                  </small>
                </>
              )}
            </td>
            <td>
              <UseForm
                kind={kind}
                row={row}
                versions={versions.filter(({ number }) => number !== row.usedNumber)}
              />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
