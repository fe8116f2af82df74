import Link from 'next/link';
import type { FaultRow } from '@/lib/view/sources-view';

type FaultTableProps = Readonly<{ rows: readonly FaultRow[] }>;

/** Faults found in one file, in time order. */
export function FaultTable({ rows }: FaultTableProps) {
  if (rows.length === 0) return <p className="soft">No fault was found in this file.</p>;
  return (
    <table className="data">
      <caption>Faults</caption>
      <thead>
        <tr>
          <th scope="col">kind</th>
          <th scope="col">column</th>
          <th scope="col">when</th>
          <th scope="col">note</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.key}>
            <th scope="row">{row.kind}</th>
            <td>{row.channel}</td>
            <td>
              <Link className="num" href={row.href} prefetch={false}>
                {row.when}
              </Link>
            </td>
            <td>{row.note}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
