import Link from 'next/link';
import { FigureValue } from '@/app/_components/figure/figure-value';
import type { ApproachView } from '@/lib/view/approach/approach-view';
import type { DeviationGroup, DeviationRow } from '@/lib/view/approach/deviation-rows';
import styles from './approach.module.css';

type DeviationTableProps = Readonly<{
  groups: readonly DeviationGroup[];
  lead: ApproachView['lead'];
}>;

/** Closing rate against the plan's profile by range, and against its clock; ramps stand apart. */
export function DeviationTable({ groups, lead }: DeviationTableProps) {
  return (
    <section className="panel">
      <h2>Against the plan, range by range</h2>
      {groups.length === 0 ? (
        <p className="soft">
          No run was matched to a move of a plan, so there is no profile to hold it against.
        </p>
      ) : (
        <>
          <table className="data">
            <thead>
              <tr>
                <th scope="col">range</th>
                <th scope="col">part</th>
                <th scope="col" className="right">
                  planned
                </th>
                <th scope="col" className="right">
                  flown
                </th>
                <th scope="col" className="right">
                  off the profile
                </th>
                <th scope="col" className="right">
                  outside tolerance
                </th>
                <th scope="col" className="right">
                  behind the plan’s clock
                </th>
              </tr>
            </thead>
            {groups.map((group) => (
              <tbody key={group.key} className={styles.group}>
                <tr>
                  <th scope="rowgroup" colSpan={7} className={styles.groupName}>
                    {group.name}
                    {group.tolerance !== null && (
                      <span className="soft">
                        {' '}
                        tolerance ± <FigureValue figure={group.tolerance} />
                      </span>
                    )}
                  </th>
                </tr>
                {group.rows.map((row) => (
                  <DeviationLine key={row.key} row={row} />
                ))}
              </tbody>
            ))}
          </table>
          <p className="panel-note">
            Means over time between two ranges. Speeding up, braking and the three metres next to
            the port, where range and axial distance part, are set apart: the profile is not meant
            there. Behind the clock: time since the step was begun, less what profile and ramps need
            from the planned start to the same range; a minus is ahead of it.
            {lead === 'away' &&
              ' Rates are closing rates, below zero outwards: off the profile by less than zero is opening faster than planned.'}
          </p>
        </>
      )}
    </section>
  );
}

function DeviationLine({ row }: Readonly<{ row: DeviationRow }>) {
  return (
    <tr className={row.isApart ? styles.apart : undefined}>
      <td className={styles.stretch}>
        <Link href={row.href} prefetch={false}>
          {row.stretch}
        </Link>
      </td>
      <td>{row.part}</td>
      <td className="right">
        <FigureValue figure={row.planned} />
      </td>
      <td className="right">
        <FigureValue figure={row.mean} />
      </td>
      <td className="right">
        <FigureValue figure={row.deviation} />
      </td>
      <td className={row.isOutside ? 'right beyond' : 'right'}>
        <FigureValue figure={row.outside} />
      </td>
      <td className="right">{row.late !== null && <FigureValue figure={row.late} />}</td>
    </tr>
  );
}
