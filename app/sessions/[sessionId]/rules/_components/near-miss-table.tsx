import { FigureValue } from '@/app/_components/figure/figure-value';
import { NEAR, type NearMissRow } from '@/lib/view/near-miss-view';
import styles from './near-miss-table.module.css';

type NearMissTableProps = Readonly<{ rows: readonly NearMissRow[] }>;

/** Rules that held, nearest first, each measured by its own uncertainty; what is clear is folded. */
export function NearMissTable({ rows }: NearMissTableProps) {
  const near = rows.filter(({ isClear }) => !isClear);
  const clear = rows.filter(({ isClear }) => isClear);
  return (
    <section className="panel" id="near">
      <h2>Near misses</h2>
      {rows.length === 0 && <p className="soft">No rule held with a margin.</p>}
      {near.length > 0 && <Rows rows={near} />}
      {near.length === 0 && clear.length > 0 && (
        <p className="soft">No rule that held came near its limit.</p>
      )}
      {clear.length > 0 && (
        <details open={clear.length <= MOST_OPEN}>
          <summary>
            {clear.length === 1 ? 'One rule' : `${clear.length} rules`} held with room to spare
          </summary>
          <Rows rows={clear} />
        </details>
      )}
      <p className="panel-note">
        A margin in metres and one in seconds cannot be compared; each over its own 95 % half-width
        can. Under 1 the verdict could be the other one; under {NEAR} is called near, which is our
        own choice.
      </p>
    </section>
  );
}

/** So many stand open; more would be a page of what nobody asked for. */
const MOST_OPEN = 6;

function Rows({ rows }: NearMissTableProps) {
  return (
    <table className={`data ${styles.misses}`}>
      <thead>
        <tr>
          <th scope="col">rule</th>
          <th scope="col" className="right">
            margin
          </th>
          <th scope="col" className="right">
            in its own half-widths
          </th>
          <th scope="col">how near</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.key}>
            <th scope="row">
              <a href={row.href}>{row.name}</a>
            </th>
            <td className="right">
              <FigureValue figure={row.margin} />
            </td>
            <td className="right">
              {row.halfWidths !== null && <FigureValue figure={row.halfWidths} />}
            </td>
            <td>
              <span className={row.isNear ? 'unsure' : 'soft'}>{row.words}</span>
              {row.decisions.map((decision) => (
                <span key={decision} className="soft">
                  ; {decision}
                </span>
              ))}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
