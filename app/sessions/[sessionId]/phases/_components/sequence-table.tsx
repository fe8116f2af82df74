import Link from 'next/link';
import { FigureValue } from '@/app/_components/figure/figure-value';
import type { SequenceRow, SequenceView } from '@/lib/view/as-flown-view';
import styles from './sequence-table.module.css';

type SequenceTableProps = Readonly<{
  view: SequenceView;
  said: 'events' | 'all';
  /** Address of the page without a query. */
  path: string;
}>;

/** Everything that happened in the session: planned, flown, difference, and what shows it. */
export function SequenceTable({ view, said, path }: SequenceTableProps) {
  const isAll = said === 'all';
  return (
    <section className="panel" id="sequence">
      <div className={`row ${styles.head}`}>
        <h2>Sequence as flown</h2>
        <span className="row no-print">
          {view.saidCount > 0 && (
            <Link href={isAll ? `${path}#sequence` : `${path}?said=all#sequence`} scroll={false}>
              {isAll ? 'Without what was only said' : `With all that was said (${view.saidCount})`}
            </Link>
          )}
          <a className="button" href={`${path}/sequence.csv`} download>
            Save as CSV
          </a>
        </span>
      </div>
      {view.rows.length === 0 ? (
        <p className="soft">No motion, no log entry and no plan tells of anything.</p>
      ) : (
        <div className={styles.scroll}>
          <table className="data">
            <thead>
              <tr>
                <th scope="col" className="right">
                  flown
                </th>
                <th scope="col">what</th>
                <th scope="col">shown by</th>
                <th scope="col" className="right">
                  planned
                </th>
                <th scope="col" className="right">
                  difference
                </th>
                <th scope="col">also</th>
              </tr>
            </thead>
            <tbody>
              {view.rows.map((row) => (
                <SequenceLine key={row.key} row={row} />
              ))}
            </tbody>
          </table>
        </div>
      )}
      <p className="panel-note">
        Planned instants are the plan’s durations added up from the first step that was flown, so a
        delay stays in all that follows; stages of capture count from first touch. Evidence is
        motion, a discrete of the telemetry, an entry of a log, or what was said; the best of them
        gives the instant, the others stand beside it.
      </p>
    </section>
  );
}

function SequenceLine({ row }: Readonly<{ row: SequenceRow }>) {
  if (row.kind === 'said') {
    return (
      <tr className={styles.said}>
        <td className="right num">{row.what}</td>
        <td className="words" colSpan={4}>
          {row.words}
        </td>
        <td className="words">{row.place}</td>
      </tr>
    );
  }
  return (
    <tr>
      <td className="right">
        {row.flown === null ? (
          <span className={`unsure ${styles.absent}`}>{row.absent}</span>
        ) : (
          <FigureValue figure={row.flown} />
        )}
      </td>
      <th scope="row" className={row.kind === 'run' ? styles.run : undefined}>
        {row.what}
        {row.words !== null && (
          <span className={styles.words}>
            {row.words}
            {row.place !== null && <span className={styles.place}>{row.place}</span>}
          </span>
        )}
        {row.note !== null && <span className={styles.flag}>{row.note}</span>}
      </th>
      <td className="words">{row.shownBy}</td>
      <td className="right">{row.planned !== null && <FigureValue figure={row.planned} />}</td>
      <td className="right">
        {row.difference !== null && <FigureValue figure={row.difference} />}
      </td>
      <td>
        {row.beside.map((seen) => (
          <span key={seen.key} className={styles.beside}>
            {seen.kind} <FigureValue figure={seen.time} />
          </span>
        ))}
      </td>
    </tr>
  );
}
