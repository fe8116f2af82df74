import Link from 'next/link';
import { FigureValue } from '@/app/_components/figure/figure-value';
import type { ExceedanceRow } from '@/lib/view/rules-view';

type ExceedanceTableProps = Readonly<{ rows: readonly ExceedanceRow[] }>;

/** Stretches beyond a limit, in the order of the rules. */
export function ExceedanceTable({ rows }: ExceedanceTableProps) {
  return (
    <section className="panel" id="beyond">
      <h2>Beyond limits</h2>
      {rows.length === 0 ? (
        <p className="soft">No stretch beyond a limit lasted as long as its rule asks for.</p>
      ) : (
        <table className="data">
          <thead>
            <tr>
              <th scope="col">rule</th>
              <th scope="col" className="right">
                from
              </th>
              <th scope="col" className="right">
                lasted
              </th>
              <th scope="col" className="right">
                worst
              </th>
              <th scope="col" className="right">
                limit there
              </th>
              <th scope="col" className="right">
                worst at
              </th>
              <th scope="col">during</th>
              <th scope="col" className="no-print">
                <span className="visually-hidden">on the timeline</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.key}>
                <th scope="row">{row.rule}</th>
                <td className="right">
                  <FigureValue figure={row.start} />
                </td>
                <td className="right">
                  <FigureValue figure={row.duration} />
                </td>
                <td className="right">
                  <FigureValue figure={row.worst} />
                </td>
                <td className="right">
                  <FigureValue figure={row.limit} />
                </td>
                <td className="right">
                  <FigureValue figure={row.worstAt} />
                </td>
                <td className="words">{row.phase}</td>
                <td className="no-print">
                  <Link href={row.href} prefetch={false}>
                    timeline
                  </Link>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}
