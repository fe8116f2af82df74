import { FigureValue } from '@/app/_components/figure/figure-value';
import type { AccuracyRow } from '@/lib/view/navigation/navigation-view';

type AccuracyTableProps = Readonly<{ rows: readonly AccuracyRow[] }>;

/** What sources state of their accuracy beside what their samples scatter by. */
export function AccuracyTable({ rows }: AccuracyTableProps) {
  return (
    <section className="panel">
      <h2>Stated accuracy against scatter</h2>
      {rows.length === 0 ? (
        <p className="soft">
          No source states the accuracy of a range, position or rate: systematic parts of the
          uncertainties are not known.
        </p>
      ) : (
        <>
          <table className="data">
            <thead>
              <tr>
                <th scope="col">channel</th>
                <th scope="col">source</th>
                <th scope="col" className="right">
                  stated, 95 %
                </th>
                <th scope="col" className="right">
                  usual scatter, 95 %
                </th>
                <th scope="col" className="right">
                  largest scatter, 95 %
                </th>
                <th scope="col">found</th>
              </tr>
            </thead>
            <tbody>
              {rows.map((row) => (
                <tr key={row.key}>
                  <th scope="row">{row.channel}</th>
                  <td>{row.source}</td>
                  <td className="right">
                    <FigureValue figure={row.stated} />
                  </td>
                  <td className="right">
                    <FigureValue figure={row.typical} />
                  </td>
                  <td className="right">
                    <FigureValue figure={row.largest} />
                  </td>
                  <td className={row.isBeyond ? 'beyond' : undefined}>{row.verdict}</td>
                </tr>
              ))}
            </tbody>
          </table>
          <p className="panel-note">
            Scatter from row to row shows no bias: a source may scatter less than it states and
            still be off by all of it.
          </p>
        </>
      )}
    </section>
  );
}
