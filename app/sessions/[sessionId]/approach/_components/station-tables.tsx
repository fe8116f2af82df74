import Link from 'next/link';
import { FigureValue } from '@/app/_components/figure/figure-value';
import type { ApproachView } from '@/lib/view/approach/approach-view';
import type { StationRow } from '@/lib/view/approach/station-rows';
import type { FigureView } from '@/lib/view/figure-view';
import styles from './approach.module.css';

type StationTableProps = Readonly<{ rows: readonly StationRow[] }>;

/** The values behind the pictures from the side, from above and along the axis. */
export function PlacesTable({ rows }: StationTableProps) {
  if (rows.length === 0) return null;
  return (
    <section className="panel">
      <details className={styles.behind}>
        <summary>
          <h2>Places: the values behind the side, the view from above and along the axis</h2>
        </summary>
        <table className="data">
          <thead>
            <tr>
              <th scope="col">where</th>
              <Head>time</Head>
              <Head>along the axis</Head>
              <Head>y</Head>
              <Head>z</Head>
              <Head>off the axis</Head>
              <Head>corridor</Head>
              <Head>clearance</Head>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.key} className={row.isLeast ? styles.leastRow : undefined}>
                <Name row={row} />
                <Cell figure={row.time} />
                <Cell figure={row.axial} />
                <Cell figure={row.y} />
                <Cell figure={row.z} />
                <Cell figure={row.lateral} />
                <td className="right">
                  {row.corridor !== null && (
                    <>
                      <FigureValue figure={row.corridor.radius} />
                      <span className={styles.ruleName}>{row.corridor.rule}</span>
                    </>
                  )}
                </td>
                <Cell figure={row.clearance} />
              </tr>
            ))}
          </tbody>
        </table>
        <p className="panel-note">
          A name marks its moment in the pictures. Round ranges are taken as they were passed for
          the last time; the corridor is the tightest rule that applies there by distance.
        </p>
      </details>
    </section>
  );
}

/** The values behind the closing rate over range, and how long there was to go. */
export function RatesTable({ rows, lead }: StationTableProps & Pick<ApproachView, 'lead'>) {
  if (rows.length === 0) return null;
  return (
    <section className="panel">
      <details className={styles.behind}>
        <summary>
          <h2>Rates and time to go: the values behind the closing rate over range</h2>
        </summary>
        <table className="data">
          <thead>
            <tr>
              <th scope="col">where</th>
              <Head>range</Head>
              <Head>closing rate</Head>
              <Head>planned</Head>
              <Head>to go by plan</Head>
              <Head>to go by present rate</Head>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.key}>
                <Name row={row} />
                <Cell figure={row.range} />
                <Cell figure={row.closing} />
                <Cell figure={row.planned} />
                <Cell figure={row.toGoByPlan} />
                <td className="right">
                  {row.toGoByRate === null ? (
                    <span className="soft">
                      {lead === 'away' ? 'not opening, or beyond it' : 'not closing'}
                    </span>
                  ) : (
                    <FigureValue figure={row.toGoByRate} />
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
        <p className="panel-note">
          To go by plan: the rest of the step being flown, by its profile from this range, and the
          planned lengths of the steps after it.{' '}
          {lead === 'away'
            ? 'By present rate: the range left to the end of the last planned move over the opening rate, where the vehicle is surely opening. A closing rate below zero is opening.'
            : 'By present rate: the axial distance left to first touch over the axial rate, where the vehicle is surely closing.'}{' '}
          Both for review only.
        </p>
      </details>
    </section>
  );
}

function Name({ row }: Readonly<{ row: StationRow }>) {
  return (
    <th scope="row">
      <Link href={`?at=${row.atS.toFixed(1)}`} prefetch={false}>
        {row.name}
      </Link>
    </th>
  );
}

function Head({ children }: Readonly<{ children: string }>) {
  return (
    <th scope="col" className="right">
      {children}
    </th>
  );
}

function Cell({ figure }: Readonly<{ figure: FigureView | null }>) {
  return <td className="right">{figure !== null && <FigureValue figure={figure} />}</td>;
}
