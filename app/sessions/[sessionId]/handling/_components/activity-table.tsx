import { FigureValue } from '@/app/_components/figure/figure-value';
import type { ActivityRow } from '@/lib/view/task-card';

type ActivityTableProps = Readonly<{ rows: readonly ActivityRow[] }>;

const COLUMNS = [
  'duty',
  'change a row, rms',
  'cut-off',
  'rate after release',
  'astray',
  'jet firings',
  'jets on',
] as const;

/** How the hand controller was moved, axis by axis, and what its jets did. */
export function ActivityTable({ rows }: ActivityTableProps) {
  if (rows.length === 0) return null;
  return (
    <table className="data">
      <thead>
        <tr>
          <th scope="col">hand controller</th>
          {COLUMNS.map((name) => (
            <th key={name} scope="col" className="right">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.axis}>
            <th scope="row">{row.axis}</th>
            <td className="right">
              <FigureValue figure={row.duty} />
            </td>
            <td className="right">
              <FigureValue figure={row.aggressiveness} />
            </td>
            <td className="right">
              <FigureValue figure={row.cutOff} />
            </td>
            <td className="right">
              {row.residualRate !== null && <FigureValue figure={row.residualRate} />}
            </td>
            <td className="right">
              {row.coupling !== null && <FigureValue figure={row.coupling} />}
            </td>
            <td className="right">
              {row.firings !== null && <FigureValue figure={row.firings} />}
            </td>
            <td className="right">
              {row.jetDuty !== null && <FigureValue figure={row.jetDuty} />}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
