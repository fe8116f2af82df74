import { FigureValue } from '@/app/_components/figure/figure-value';
import type { MeasureRow } from '@/lib/view/axis-rows';

type MeasureTableProps = Readonly<{ rows: readonly MeasureRow[] }>;

/** Hand controller, limit cycles and jets of the final step, the flight beside the median run. */
export function MeasureTable({ rows }: MeasureTableProps) {
  if (rows.length === 0) return null;
  return (
    <section className="panel">
      <h2>Hand controller, limit cycles and jets, final step</h2>
      <table className="data">
        <thead>
          <tr>
            <th scope="col">measure</th>
            <th scope="col" className="right">
              flight
            </th>
            <th scope="col" className="right">
              median run
            </th>
            <th scope="col" className="right">
              ratio
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.key}>
              <th scope="row">{row.label}</th>
              <td className="right">
                <FigureValue figure={row.flight} />
              </td>
              <td className="right">
                {row.simulator === null ? (
                  <span className="soft">no run has it</span>
                ) : (
                  <FigureValue figure={row.simulator} />
                )}
              </td>
              <td className="right">{row.ratio !== null && <FigureValue figure={row.ratio} />}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="panel-note">
        The closed form is that of a dead band without torque, at the measured amplitude and drift
        rate: a measured period far from it speaks of a torque or of another control law. A ratio is
        flown over the median run, its interval that of the median. The hand controller is listed
        for axes along which it was moved in this step as flown, beside the runs that moved theirs;
        none of its measures is one of workload.
      </p>
    </section>
  );
}
