import Link from 'next/link';
import { FigureValue } from '@/app/_components/figure/figure-value';
import type { PhasesView, RateRow } from '@/lib/view/phases-view';
import styles from './rate-table.module.css';

type RateTableProps = Readonly<{ rows: readonly RateRow[]; lead: PhasesView['ratesLead'] }>;

/** Closing rate of each run that moved as a step may, and how far from plan it was. */
export function RateTable({ rows, lead }: RateTableProps) {
  const isOutwards = lead === 'outwards too';
  return (
    <section className="panel" id="rates">
      <h2>Closing rate against plan</h2>
      {rows.length === 0 ? (
        <p className="soft">
          No run of a move was told apart, so there is no rate to hold against a plan.
        </p>
      ) : (
        <table className="data">
          <thead>
            <tr>
              <th scope="col" rowSpan={2}>
                {isOutwards ? 'run' : 'closing run'}
              </th>
              <th scope="colgroup" colSpan={2} className={styles.group}>
                closing rate
              </th>
              <th scope="colgroup" colSpan={4} className={styles.group}>
                deviation from the planned rate
              </th>
            </tr>
            <tr>
              <th scope="col" className="right">
                mean
              </th>
              <th scope="col" className="right">
                peak
              </th>
              <th scope="col" className="right">
                mean
              </th>
              <th scope="col" className="right">
                rms
              </th>
              <th scope="col" className="right">
                peak, and where
              </th>
              <th scope="col" className="right">
                outside tolerance
              </th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <RateLine key={row.key} row={row} />
            ))}
          </tbody>
        </table>
      )}
      {rows.length > 0 && (
        <p className="panel-note">
          Deviation is the closing rate less the planned rate at that range, without the first and
          last metres in which the vehicle speeds up and brakes and without the three metres next to
          the port; means are over time.
          {isOutwards &&
            ' Outwards both rates are negative: a deviation below zero is opening faster than planned, one above it slower.'}
        </p>
      )}
    </section>
  );
}

function RateLine({ row }: Readonly<{ row: RateRow }>) {
  const { deviation } = row;
  return (
    <tr>
      <th scope="row">
        <Link className={styles.name} href={row.href} prefetch={false}>
          {row.name}
        </Link>
      </th>
      <td className="right">
        <FigureValue figure={row.mean} />
      </td>
      <td className="right">
        <FigureValue figure={row.peak} />
      </td>
      {deviation === null ? (
        <td colSpan={4} className={styles.none}>
          no planned rate to hold it against
        </td>
      ) : (
        <>
          <td className="right">
            <FigureValue figure={deviation.mean} />
          </td>
          <td className="right">
            <FigureValue figure={deviation.rms} />
          </td>
          <td className="right">
            <FigureValue figure={deviation.peak} />
            <span className={styles.where}>
              at <FigureValue figure={deviation.peakRange} />
            </span>
            <span className={styles.where}>
              at <FigureValue figure={deviation.peakTime} />
            </span>
          </td>
          <td className={deviation.isOutside ? 'right beyond' : 'right'}>
            <FigureValue figure={deviation.outside} />
          </td>
        </>
      )}
    </tr>
  );
}
