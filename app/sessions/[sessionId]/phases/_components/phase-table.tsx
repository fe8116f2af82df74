import Link from 'next/link';
import { FigureValue } from '@/app/_components/figure/figure-value';
import { StripBar } from '@/app/_components/marks/strip-bar';
import type { FigureView } from '@/lib/view/figure-view';
import type { PhasesView, RunRow, StepRow } from '@/lib/view/phases-view';
import styles from './phase-table.module.css';

type PhaseTableProps = Readonly<{ rows: PhasesView['rows'] }>;

/** One row a step with its pieces folded; runs that nobody planned stand between. */
export function PhaseTable({ rows }: PhaseTableProps) {
  return (
    <section className="panel">
      <h2>Steps and runs</h2>
      {rows.length === 0 ? (
        <p className="soft">No plan came with this session, so no phase was told apart.</p>
      ) : (
        <table className="data">
          <thead>
            <tr>
              <th scope="col">step or run</th>
              <th scope="col" className={styles.strip}>
                when
              </th>
              <th scope="col" className="right">
                start
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
              <th scope="col" className="right">
                range at start
              </th>
              <th scope="col" className="right">
                range at end
              </th>
            </tr>
          </thead>
          {rows.map((row) => (
            <tbody key={row.key} className={styles.group}>
              {row.kind === 'step' ? <StepLines row={row} /> : <UnplannedLine row={row} />}
            </tbody>
          ))}
        </table>
      )}
      {rows.length > 0 && (
        <p className="panel-note">
          Runs from the first row to contact, or to the last row. A run’s edge is where the range
          rate crosses the hold rate of the plan; a name leads to its stretch of the timeline.
        </p>
      )}
    </section>
  );
}

function StepLines({ row }: Readonly<{ row: StepRow }>) {
  return (
    <>
      <tr>
        <th scope="row">
          {row.name}
          {row.pieces.length > 0 && (
            <details className={styles.pieces}>
              <summary>{row.pieces.length} pieces</summary>
            </details>
          )}
        </th>
        <td>{row.strips.length > 0 && <StripBar strips={row.strips} />}</td>
        <Cell figure={row.start} />
        <td className="right num">{row.planned}</td>
        <td className="right">
          {row.flown === null ? row.state : <FigureValue figure={row.flown} />}
          {row.state === 'not completed' && <span className={styles.state}>not completed</span>}
        </td>
        <Cell figure={row.difference} />
        <Cell figure={row.rangeStart} />
        <Cell figure={row.rangeEnd} />
      </tr>
      {row.pieces.map((piece) => (
        <RunLine key={piece.key} row={piece} className={styles.piece} />
      ))}
    </>
  );
}

function UnplannedLine({ row }: Readonly<{ row: RunRow & { within: string | null } }>) {
  return (
    <RunLine
      row={row}
      className={styles.unplanned}
      note={row.within === null ? undefined : `during ${row.within}`}
    />
  );
}

type RunLineProps = Readonly<{
  row: RunRow;
  className: string | undefined;
  note?: string | undefined;
}>;

function RunLine({ row, className, note }: RunLineProps) {
  return (
    <tr className={className}>
      <th scope="row">
        <Link href={row.href} prefetch={false}>
          {row.name}
        </Link>
        {note !== undefined && <span className={styles.state}>{note}</span>}
      </th>
      <td>
        <StripBar strips={[row.strip]} />
      </td>
      <Cell figure={row.start} />
      <td />
      <Cell figure={row.duration} />
      <td />
      <Cell figure={row.rangeStart} />
      <Cell figure={row.rangeEnd} />
    </tr>
  );
}

function Cell({ figure }: Readonly<{ figure: FigureView | null }>) {
  return <td className="right">{figure !== null && <FigureValue figure={figure} />}</td>;
}
