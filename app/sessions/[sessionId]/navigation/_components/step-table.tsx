import Link from 'next/link';
import { FigureValue } from '@/app/_components/figure/figure-value';
import type { JumpCell, StepRow } from '@/lib/view/navigation/navigation-view';
import styles from './navigation.module.css';

type StepTableProps = Readonly<{ rows: readonly StepRow[] }>;

/** Hand-overs and jumps: by how much the solution stepped along each axis. */
export function StepTable({ rows }: StepTableProps) {
  return (
    <section className="panel">
      <h2>Hand-overs and steps in the solution</h2>
      {rows.length === 0 ? (
        <p className="soft">
          No hand-over is recorded, and no jump of the position was found that the velocity does not
          carry.
        </p>
      ) : (
        <>
          <table className="data">
            <thead>
              <tr>
                <th scope="col">what</th>
                <th scope="col" className="right">
                  when
                </th>
                <th scope="col" className="right">
                  step in position
                </th>
                <th scope="col" className="right">
                  step in velocity
                </th>
              </tr>
            </thead>
            <tbody>
              {rows.map((row) => (
                <tr key={row.key}>
                  <th scope="row">
                    <Link href={row.href} prefetch={false}>
                      {row.what}
                    </Link>
                    <span className={styles.notes}>{row.notes.join('; ')}</span>
                  </th>
                  <td className="right">
                    <FigureValue figure={row.time} />
                  </td>
                  <td className="right">
                    <Jumps cells={row.positions} />
                  </td>
                  <td className="right">
                    <Jumps cells={row.velocities} />
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
          <p className="panel-note">
            New less old, by straight lines on either side carried to the moment. A step begins a
            new segment: no rate is formed across it, and a rule judged worst while the solution
            settles says so on the Rules screen.
          </p>
        </>
      )}
    </section>
  );
}

function Jumps({ cells }: Readonly<{ cells: readonly JumpCell[] }>) {
  if (cells.length === 0) return <span className="soft">too few samples</span>;
  return cells.map((cell) => (
    <span key={cell.axis} className={cell.isSeen ? styles.seenJump : styles.jump}>
      <span className={styles.axis}>{cell.axis}</span> <FigureValue figure={cell.figure} />
    </span>
  ));
}
