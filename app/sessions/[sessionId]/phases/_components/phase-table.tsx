import Link from 'next/link';
import { FigureValue } from '@/app/_components/figure/figure-value';
import { StripBar } from '@/app/_components/marks/strip-bar';
import type { FigureView } from '@/lib/view/figure-view';
import type { PhasesView, RunRow, StepRow } from '@/lib/view/phases-view';
import { EditButton } from '../../_components/edit-button';
import type { EditPlace } from '../../_components/edit-dialog';
import styles from './phase-table.module.css';

type PhaseTableProps = Readonly<{ rows: PhasesView['rows']; place: EditPlace }>;

/** One row a step with its pieces folded; runs that nobody planned stand between. */
export function PhaseTable({ rows, place }: PhaseTableProps) {
  return (
    <section className="panel" id="steps">
      <h2>Steps and runs</h2>
      {rows.length === 0 ? (
        <p className="soft">
          No plan came with this session, so no phase was told apart. Put one in use for it under{' '}
          <Link href="/plans">Plans and rules</Link>.
        </p>
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
              <th scope="col" className="no-print">
                <span className="visually-hidden">correct</span>
              </th>
            </tr>
          </thead>
          {rows.map((row) => (
            <tbody key={row.key} className={styles.group}>
              {row.kind === 'step' ? (
                <StepLines row={row} place={place} />
              ) : (
                <RunLine
                  row={row}
                  place={place}
                  className={styles.unplanned}
                  note={row.within === null ? undefined : `during ${row.within}`}
                />
              )}
            </tbody>
          ))}
        </table>
      )}
      {rows.length > 0 && (
        <p className="panel-note">
          Runs from the first row to contact, or to the last row. A run’s edge is where the range
          rate crosses the hold rate of the plan, or where somebody moved it to; what rests on that
          carries a †. A name leads to its stretch of the timeline.
        </p>
      )}
    </section>
  );
}

type StepLinesProps = Readonly<{ row: StepRow; place: EditPlace }>;

function StepLines({ row, place }: StepLinesProps) {
  return (
    <>
      <tr>
        <th scope="row">
          {row.href === null ? (
            row.name
          ) : (
            <Link href={row.href} prefetch={false}>
              {row.name}
            </Link>
          )}
          {row.pieces.length > 0 && (
            <details className={styles.pieces}>
              <summary>{row.pieces.length} pieces</summary>
            </details>
          )}
          <Note text={row.stepNote} />
        </th>
        <td className={styles.bars}>{row.strips.length > 0 && <StripBar strips={row.strips} />}</td>
        <StartCell row={row} />
        <Cell figure={row.planned} />
        <td className="right">
          {row.flown === null ? (
            <span className={styles.absent}>{row.state}</span>
          ) : (
            <FigureValue figure={row.flown} />
          )}
          {row.flown !== null && row.state !== 'completed' && (
            <span className={styles.state}>{row.state}</span>
          )}
        </td>
        <Cell figure={row.difference} />
        <Cell figure={row.rangeStart} />
        <Cell figure={row.rangeEnd} />
        {row.pieces.length > 0 ? <td className="no-print" /> : <EditCell row={row} place={place} />}
      </tr>
      {row.pieces.map((piece) => (
        <RunLine key={piece.key} row={piece} place={place} className={styles.piece} />
      ))}
    </>
  );
}

type RunLineProps = Readonly<{
  row: RunRow;
  place: EditPlace;
  className: string | undefined;
  note?: string | undefined;
}>;

function RunLine({ row, place, className, note }: RunLineProps) {
  return (
    <tr className={className}>
      <th scope="row">
        <Link href={row.href} prefetch={false}>
          {row.name}
        </Link>
        {note !== undefined && <span className={styles.state}>{note}</span>}
        <Note text={row.stepNote} />
      </th>
      <td className={styles.bars}>
        <StripBar strips={[row.strip]} />
      </td>
      <StartCell row={row} />
      <td />
      <Cell figure={row.duration} />
      <td />
      <Cell figure={row.rangeStart} />
      <Cell figure={row.rangeEnd} />
      <EditCell row={row} place={place} />
    </tr>
  );
}

type EditCellProps = Readonly<{
  row: Pick<StepRow, 'start' | 'startNote' | 'offers'>;
  place: EditPlace;
}>;

/** The edge at which a run starts, and what a person set there. */
function StartCell({ row }: Pick<EditCellProps, 'row'>) {
  return (
    <td className="right">
      {row.start !== null && <FigureValue figure={row.start} />}
      <Note text={row.startNote} />
    </td>
  );
}

function EditCell({ row: { offers }, place }: EditCellProps) {
  return (
    <td className="no-print">
      {offers !== null && (
        <span className={styles.edits}>
          {offers.move !== null && <EditButton words="move" offer={offers.move} place={place} />}
          <EditButton words="split" offer={offers.split} place={place} />
          <EditButton words="name" offer={offers.name} place={place} />
        </span>
      )}
    </td>
  );
}

/** What a person set, under what it is about. */
function Note({ text }: Readonly<{ text: string | null }>) {
  return text === null ? null : <span className={styles.hand}>{text}</span>;
}

function Cell({ figure }: Readonly<{ figure: FigureView | null }>) {
  return <td className="right">{figure !== null && <FigureValue figure={figure} />}</td>;
}
