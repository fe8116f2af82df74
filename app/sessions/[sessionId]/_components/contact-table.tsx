import { FigureValue } from '@/app/_components/figure/figure-value';
import { GaugeBar } from '@/app/_components/marks/gauge-bar';
import type { ContactView } from '@/lib/view/contact-view';
import styles from './summary-tables.module.css';

type ContactTableProps = Readonly<{ view: ContactView | null; absent: string }>;

/** Conditions at contact, each on a gauge that shows the stretch its table allows. */
export function ContactTable({ view, absent }: ContactTableProps) {
  return (
    <section className="panel">
      <h2>Contact against limits</h2>
      {view === null ? (
        <p className="soft">{absent}</p>
      ) : (
        <>
          <table className="data">
            <thead>
              <tr>
                <th scope="col">condition</th>
                <th scope="col" className="right">
                  measured
                </th>
                <th scope="col">limit</th>
                <th scope="col" className={styles.gauge}>
                  allowed, and measured
                </th>
                <th scope="col">standing</th>
              </tr>
            </thead>
            <tbody>
              {view.rows.map((row) => (
                <tr key={row.condition}>
                  <th scope="row">{row.label}</th>
                  <td className="right">
                    {row.measured === null ? '' : <FigureValue figure={row.measured} />}
                  </td>
                  <td className={styles.nowrap}>{row.limitText}</td>
                  <td>{row.gauge !== null && <GaugeBar gauge={row.gauge} />}</td>
                  <td className={row.tone}>{row.standing}</td>
                </tr>
              ))}
            </tbody>
          </table>
          {view.notEvaluated !== null && (
            <p className="panel-note">
              <span className="unsure">Not evaluated:</span> {view.notEvaluated}.
            </p>
          )}
          <p className="panel-note">
            At <FigureValue figure={view.time} />: {view.basis}. {view.formed} Limits:{' '}
            {view.tableSource}; another mechanism has its own.
          </p>
        </>
      )}
    </section>
  );
}
