import { FigureValue } from '@/app/_components/figure/figure-value';
import { GaugeBar } from '@/app/_components/marks/gauge-bar';
import type { ContactView } from '@/lib/view/contact-view';
import styles from './contact.module.css';

type ConditionTableProps = Readonly<{ view: ContactView | null }>;

/** Conditions at contact with the age of their data, each against its limit. */
export function ConditionTable({ view }: ConditionTableProps) {
  if (view === null) return null;
  return (
    <section className="panel">
      <h2>Conditions against limits</h2>
      {view.notEvaluated !== null && (
        <p className="panel-note">
          <span className="unsure">Not evaluated:</span> {view.notEvaluated}.
        </p>
      )}
      <div className={styles.scroll}>
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
              <th scope="col" className="right">
                of the limit
              </th>
              <th scope="col" className="right">
                age of data
              </th>
            </tr>
          </thead>
          <tbody>
            {view.rows.map((row) => (
              <tr key={row.condition}>
                <th scope="row">{row.label}</th>
                <td className="right">
                  {row.measured !== null && <FigureValue figure={row.measured} />}
                </td>
                <td className={styles.nowrap}>{row.limitText}</td>
                <td>{row.gauge !== null && <GaugeBar gauge={row.gauge} />}</td>
                <td className={row.tone}>{row.standing}</td>
                <td className="right">{row.used !== null && <FigureValue figure={row.used} />}</td>
                <td className="right">{row.age !== null && <FigureValue figure={row.age} />}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p className="panel-note">
        {view.formed} The age is from the last sample under a value to contact. Pitch and yaw count
        as one, by the root of the sum of squares. Attitude error is against command. Limits:{' '}
        {view.tableSource}
        {view.isOwnTable ? ', as the plan says.' : '; a plan can give those of its own mechanism.'}{' '}
        For review only.
      </p>
    </section>
  );
}
