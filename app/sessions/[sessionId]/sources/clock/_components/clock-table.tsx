import type { ClockRow } from '@/lib/view/clock/clock-rows';
import styles from './clock.module.css';
import { ClockTableRow } from './clock-table-row';
import type { SourcePlace } from './judge-form';

type ClockTableProps = Readonly<{ rows: readonly ClockRow[]; place: SourcePlace }>;

const HEADS = [
  ['source time', ''],
  ['session time', ''],
  ['words', ''],
  ['said', 'right'],
  ['telemetry', 'right'],
  ['difference', 'right'],
  ['residual before, s', 'right'],
  ['residual after, s', 'right'],
  ['sd, s', 'right'],
  ['weight', 'right'],
  ['state', ''],
  ['judge', 'unseen'],
] as const;

/** Every spoken value and tie point with what became of it; each spoken value can be judged. */
export function ClockTable({ rows, place }: ClockTableProps) {
  return (
    <section className="panel">
      <h2>Spoken values and tie points</h2>
      {rows.length === 0 ? (
        <p className="soft">Nothing in this source speaks of a range or a rate.</p>
      ) : (
        <div className={styles.scroll}>
          <table className={`data ${styles.table}`}>
            <thead>
              <tr>
                {HEADS.map(([head, side]) => (
                  <th key={head} scope="col" className={side}>
                    {side === 'unseen' ? <span className="visually-hidden">{head}</span> : head}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {rows.map((row) => (
                <ClockTableRow key={row.key} row={row} place={place} columns={HEADS.length} />
              ))}
            </tbody>
          </table>
        </div>
      )}
      <p className="panel-note">
        Telemetry is the estimate at the moment meant: the words less the lag, by the clock found
        without them. Rates and doubtful values tell no clock.
      </p>
    </section>
  );
}
