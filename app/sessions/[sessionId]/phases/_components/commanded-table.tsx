import { FigureValue } from '@/app/_components/figure/figure-value';
import type { CommandedRow } from '@/lib/view/commanded-view';

type CommandedTableProps = Readonly<{ rows: readonly CommandedRow[] }>;

/** What each mode commanded, the run that carried it out, and how long the motion took to follow. */
export function CommandedTable({ rows }: CommandedTableProps) {
  return (
    <section className="panel">
      <h2>Commanded beside flown</h2>
      <table className="data">
        <thead>
          <tr>
            <th scope="col">mode</th>
            <th scope="col">commands</th>
            <th scope="col" className="right">
              from
            </th>
            <th scope="col">carried out by</th>
            <th scope="col" className="right">
              begun
            </th>
            <th scope="col" className="right">
              delay
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.key}>
              <th scope="row">{row.mode}</th>
              <td>{row.motion ?? <span className="soft">no motion</span>}</td>
              <td className="right">
                <FigureValue figure={row.commanded} />
              </td>
              <td>{row.run}</td>
              <td className="right">{row.begun !== null && <FigureValue figure={row.begun} />}</td>
              <td className="right">
                {row.delay === null ? (
                  <span className="soft">{row.why}</span>
                ) : (
                  <FigureValue figure={row.delay} />
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="panel-note">
        Modes as the session file explains them. Delay is the start of the run less the change of
        mode; a run begins where its rate passes the hold rate, so that a delay holds the time to
        get there.
      </p>
    </section>
  );
}
