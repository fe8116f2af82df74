import Link from 'next/link';
import type { ReactNode } from 'react';
import type { FaultRow } from '@/lib/view/fault-list';

type FaultTableProps<Row extends FaultRow> = Readonly<{
  rows: readonly Row[];
  /** What can be done about a fault, where the screen offers something. */
  act?: (row: Row) => ReactNode;
}>;

/** Faults found in one file, in time order. */
export function FaultTable<Row extends FaultRow>({ rows, act }: FaultTableProps<Row>) {
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
          {act !== undefined && (
            <th scope="col">
              <span className="visually-hidden">overrule</span>
            </th>
          )}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.key}>
            <th scope="row">{row.kind}</th>
            <td className="words">{row.channel}</td>
            <td>
              <Link className="num" href={row.href} prefetch={false}>
                {row.when}
              </Link>
            </td>
            <td className="words">{row.note}</td>
            {act !== undefined && <td>{act(row)}</td>}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
