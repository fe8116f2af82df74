import { FigureValue } from '@/app/_components/figure/figure-value';
import type { PollRow } from '@/lib/view/poll-view';
import styles from './poll-board.module.css';

type PollTableProps = Readonly<{ rows: readonly PollRow[] }>;

/** One row a rule, worst first. */
export function PollTable({ rows }: PollTableProps) {
  return (
    <div className={styles.scroll}>
      <table className="data">
        <thead>
          <tr>
            <th scope="col">rule</th>
            <th scope="col">stood</th>
            <th scope="col" className="right">
              value
            </th>
            <th scope="col" className="right">
              limit
            </th>
            <th scope="col" className="right">
              room
            </th>
            <th scope="col" className="right">
              trend of the room
            </th>
            <th scope="col" className="right">
              age
            </th>
            <th scope="col">so far</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.id} className={row.tone === 'quiet' ? styles.quiet : undefined}>
              <th scope="row" title={row.statement}>
                {row.name}
                {row.words !== '' && <span className={styles.words}>{row.words}</span>}
              </th>
              <td className={`${styles.standing} ${row.tone}`}>{row.standing}</td>
              <Cell figure={row.value} />
              <Cell figure={row.limit} />
              <Cell figure={row.margin} />
              <td className="right">
                {row.trend !== null && <FigureValue figure={row.trend} />}
                {row.trendWord !== null && <span className={styles.words}>{row.trendWord}</span>}
              </td>
              <td className={`right ${styles.age}`}>
                {row.age !== null && <FigureValue figure={row.age} />}
              </td>
              <td>{row.soFar}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function Cell({ figure }: Readonly<{ figure: PollRow['value'] }>) {
  return <td className="right">{figure !== null && <FigureValue figure={figure} />}</td>;
}
