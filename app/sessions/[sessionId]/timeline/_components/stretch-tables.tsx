'use client';

import type { StretchTable } from '@/lib/view/timeline-table';
import styles from './selection-panel.module.css';
import { useClock } from './use-axis';

type StretchTablesProps = Readonly<{ table: StretchTable; cut: 'cut' | 'whole' }>;

/** Statistics first, then rows: what the strips draw, to be read. */
export function StretchTables({ table, cut }: StretchTablesProps) {
  const clock = useClock();
  if (table.statistics.length === 0) return <p className="soft">No column is put on.</p>;
  return (
    <>
      {cut === 'cut' && (
        <p role="alert">The stretch is too long for a table: only its first rows were read.</p>
      )}
      <section
        className={styles.scroll}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls must be reachable by key
        tabIndex={0}
        aria-label="Statistics of the selection"
      >
        <table className={styles.table}>
          <caption>Statistics of the selection</caption>
          <thead>
            <tr>
              <th scope="col">column</th>
              <th scope="col">samples</th>
              <th scope="col">least</th>
              <th scope="col">mean of samples</th>
              <th scope="col">greatest</th>
              <th scope="col">standard deviation</th>
              <th scope="col" className={styles.unit}>
                unit
              </th>
            </tr>
          </thead>
          <tbody>
            {table.statistics.map((each) => (
              <tr key={each.key}>
                <th scope="row">{each.label}</th>
                <td>{each.count}</td>
                <td>{each.least}</td>
                <td>{each.mean}</td>
                <td>{each.greatest}</td>
                <td>{each.deviation}</td>
                <td className={styles.unit}>{each.unit}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <details className={styles.rows}>
        <summary>Rows</summary>
        <section
          className={styles.scroll}
          // biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls must be reachable by key
          tabIndex={0}
          aria-label="Rows of the selection"
        >
          <table className={styles.table}>
            <caption>{table.note}</caption>
            <thead>
              <tr>
                <th scope="col">{clock.name}</th>
                {table.head.map((head) => (
                  <th key={head} scope="col">
                    {head}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {table.rows.map((row) => (
                <tr key={row.tS}>
                  <th scope="row">{clock.text(row.tS, 2)}</th>
                  {row.values.map((value, index) => (
                    <td key={table.head[index]}>{value}</td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      </details>
    </>
  );
}
