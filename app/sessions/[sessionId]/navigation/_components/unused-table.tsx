import Link from 'next/link';
import { FigureValue } from '@/app/_components/figure/figure-value';
import type { NavigationView } from '@/lib/view/navigation/navigation-view';

type UnusedTableProps = Readonly<{ rows: NavigationView['unused'] }>;

/** Stretches of the solution's channels that were missing or not used. */
export function UnusedTable({ rows }: UnusedTableProps) {
  return (
    <section className="panel">
      <h2>Missing or not used</h2>
      {rows.length === 0 ? (
        <p className="soft">Every row of the solution was there and was used.</p>
      ) : (
        <table className="data">
          <thead>
            <tr>
              <th scope="col">what</th>
              <th scope="col" className="right">
                from
              </th>
              <th scope="col" className="right">
                for
              </th>
              <th scope="col">what was done</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.key}>
                <th scope="row">
                  <Link href={row.href} prefetch={false}>
                    {row.what}
                  </Link>
                </th>
                <td className="right">
                  {row.start !== null && <FigureValue figure={row.start} />}
                </td>
                <td className="right">
                  {row.length !== null && <FigureValue figure={row.length} />}
                </td>
                <td>{row.note}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}
