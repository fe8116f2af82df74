import { FigureValue } from '@/app/_components/figure/figure-value';
import type { ScoreRow } from '@/lib/view/comparison-view';
import styles from './comparison.module.css';
import { ScoreStripSvg } from './score-strip-svg';

type ScoreTableProps = Readonly<{ scores: readonly ScoreRow[] }>;

/** Numbers of the whole step: the flight among the runs. */
export function ScoreTable({ scores }: ScoreTableProps) {
  return (
    <section className="panel">
      <h2>Numbers of the whole step</h2>
      <table className="data">
        <thead>
          <tr>
            <th scope="col">number</th>
            <th scope="col" className="right">
              flight
            </th>
            <th scope="col" className="right">
              median run
            </th>
            <th scope="col" className="right">
              95th percentile
            </th>
            <th scope="col" className={styles.strip}>
              the flight among the runs
            </th>
            <th scope="col" className="right">
              runs below
            </th>
          </tr>
        </thead>
        <tbody>
          {scores.map((score) => (
            <tr key={score.key}>
              <th scope="row">
                {score.label}
                {score.standsOut && <span className={styles.out}> stands out</span>}
              </th>
              <td className="right">
                <FigureValue figure={score.flight} />
              </td>
              <td className="right">
                <FigureValue figure={score.median} />
              </td>
              <td className="right">
                <FigureValue figure={score.p95} />
                {!score.p95Supported && <span className={styles.bound}>no upper bound</span>}
              </td>
              <td>
                {score.strip !== null && (
                  <ScoreStripSvg strip={score.strip} isOut={score.standsOut ? 'out' : 'in'} />
                )}
              </td>
              <td className="right">
                <FigureValue figure={score.rank} />{' '}
                <span className={styles.at}>of {score.runs}</span>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="panel-note">
        Means, deviations and peaks are over the time of the final step. On the strip a thin line is
        a run, the bar reaches from the 5th to the 95th percentile, the tall mark is the flight. “No
        upper bound”: so few runs put no limit on how high the 95th percentile of all possible runs
        may lie. A number stands out when it lies beyond all runs, half as far again from their
        median as the farthest of them (with 60 runs 69 %, with 20 runs 131 % as far).
      </p>
    </section>
  );
}
