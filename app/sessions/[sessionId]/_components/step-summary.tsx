import Link from 'next/link';
import { FigureValue } from '@/app/_components/figure/figure-value';
import { StripBar } from '@/app/_components/marks/strip-bar';
import type { PhasesView } from '@/lib/view/phases-view';
import styles from './summary-tables.module.css';

type StepSummaryProps = Readonly<{ rows: PhasesView['rows']; href: string }>;
type Row = PhasesView['rows'][number];

/** Steps planned and flown, with the runs that nobody planned between them. */
export function StepSummary({ rows, href }: StepSummaryProps) {
  return (
    <section className="panel">
      <h2>Steps, planned and flown</h2>
      {rows.length === 0 ? (
        <p className="soft">
          No plan came with this session, and phases are told apart by one. Put one in use for it
          under <Link href="/plans">Plans and rules</Link>.
        </p>
      ) : (
        <table className="data">
          <thead>
            <tr>
              <th scope="col">step</th>
              <th scope="col" className={styles.strip}>
                when
              </th>
              <th scope="col" className="right">
                planned
              </th>
              <th scope="col" className="right">
                flown
              </th>
              <th scope="col" className="right">
                difference
              </th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <StepLine key={row.key} row={row} />
            ))}
          </tbody>
        </table>
      )}
      <p className="panel-note no-print">
        <Link href={href}>Phases</Link>, with pieces, ranges and rates against plan
        {rows.some((row) => row.kind === 'step' && row.pieces.length > 0) &&
          '. A step in pieces is counted from its first start to its last end.'}
      </p>
    </section>
  );
}

function StepLine({ row }: Readonly<{ row: Row }>) {
  if (row.kind === 'unplanned') {
    return (
      <tr className={styles.unplanned}>
        <th scope="row">{row.name}</th>
        <td>
          <StripBar strips={[row.strip]} />
        </td>
        <td />
        <td className="right">
          <FigureValue figure={row.duration} />
        </td>
        <td />
      </tr>
    );
  }
  return (
    <tr>
      <th scope="row">
        {row.name}
        {row.pieces.length > 0 && (
          <span className={styles.note}>in {row.pieces.length} pieces</span>
        )}
      </th>
      <td>{row.strips.length > 0 && <StripBar strips={row.strips} />}</td>
      <td className="right">
        <FigureValue figure={row.planned} />
      </td>
      <td className="right">
        {row.flown === null ? (
          <span className={styles.note}>{row.state}</span>
        ) : (
          <FigureValue figure={row.flown} />
        )}
        {row.flown !== null && row.state !== 'completed' && (
          <span className={styles.note}>{row.state}</span>
        )}
      </td>
      <td className="right">
        {row.difference !== null && <FigureValue figure={row.difference} />}
      </td>
    </tr>
  );
}
