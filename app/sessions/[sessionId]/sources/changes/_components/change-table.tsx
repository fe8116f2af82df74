import type { ChangeRow } from '@/lib/view/changes-view';

type ChangeTableProps = Readonly<{
  rows: readonly ChangeRow[];
  within: readonly ChangeRow[];
}>;

/** Every figure that differs, the largest change against its uncertainty first. */
export function ChangeTable({ rows, within }: ChangeTableProps) {
  return (
    <section className="panel stack">
      <h2>Figures that changed</h2>
      {rows.length === 0 ? (
        <p className="soft">No figure moved beyond its own uncertainty.</p>
      ) : (
        <Rows rows={rows} />
      )}
      {within.length > 0 && (
        <details>
          <summary>{within.length} more moved by less than their own ±, or than is written</summary>
          <Rows rows={within} />
        </details>
      )}
    </section>
  );
}

function Rows({ rows }: Readonly<{ rows: readonly ChangeRow[] }>) {
  return (
    <table className="data">
      <thead>
        <tr>
          <th scope="col">figure</th>
          <th scope="col" className="right">
            before
          </th>
          <th scope="col" className="right">
            now
          </th>
          <th scope="col" className="right">
            difference
          </th>
          <th scope="col" className="right">
            of its ±
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.key}>
            <th scope="row">{row.name}</th>
            <td className="right num">{row.before}</td>
            <td className="right num">{row.after}</td>
            <td className="right num">{row.difference}</td>
            <td className={row.isBeyond ? 'right num beyond' : 'right num'}>{row.size}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
