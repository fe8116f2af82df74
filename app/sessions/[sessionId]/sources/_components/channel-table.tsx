import type { ChannelRow } from '@/lib/view/sources-view';

type ChannelTableProps = Readonly<{ rows: readonly ChannelRow[] }>;

/** The columns of a file: what each is, in which unit, and what is wrong with it. */
export function ChannelTable({ rows }: ChannelTableProps) {
  return (
    <table className="data">
      <caption>Columns</caption>
      <thead>
        <tr>
          <th scope="col">in the file</th>
          <th scope="col">quantity</th>
          <th scope="col">unit</th>
          <th scope="col" className="right">
            samples
          </th>
          <th scope="col" className="right">
            rejected
          </th>
          <th scope="col">faults</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.column}>
            <th scope="row">
              <code>{row.column}</code>
            </th>
            <td className="words">
              {row.quantity === '' ? <span className="soft">its own</span> : row.quantity}
            </td>
            <td>{row.unit === '' ? <span className="soft">not stated</span> : row.unit}</td>
            <td className="right num">{row.samples}</td>
            <td className="right num">{row.rejected}</td>
            <td className="beyond">{row.faults}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
