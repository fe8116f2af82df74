import type { PointsRow } from '@/lib/view/navigation/points-rows';
import styles from './navigation.module.css';

type PointsTableProps = Readonly<{ rows: readonly PointsRow[] }>;

/** From what to what each source measures, its lever arm, its velocity's axes, its stamps. */
export function PointsTable({ rows }: PointsTableProps) {
  return (
    <section className="panel">
      <h2>Reference points and lever arms</h2>
      <table className="data">
        <thead>
          <tr>
            <th scope="col">source</th>
            <th scope="col">sensor</th>
            <th scope="col">from what to what</th>
            <th scope="col">lever arm</th>
            <th scope="col">velocity</th>
            <th scope="col">stamps</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.file}>
              <th scope="row">
                <span className={styles.file}>{row.file}</span>
                {row.isSolution && <span className={styles.role}>the solution</span>}
              </th>
              <td>{row.sensor}</td>
              <td>{row.points}</td>
              <td>{row.leverArm}</td>
              <td>{row.velocity}</td>
              <td>{row.stamps}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="panel-note">
        As session.yaml states it. Positions are taken in the target port’s axes: x along the
        docking axis away from the port, y and z across it.
      </p>
    </section>
  );
}
