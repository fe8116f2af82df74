'use client';

import { FigureValue } from '@/app/_components/figure/figure-value';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import { isDifferencesView } from '@/lib/view/checked-answers';
import { tellTimes } from '@/lib/view/told-times';
import { CopyButton } from './copy-button';
import styles from './selection-panel.module.css';
import { useClock } from './use-axis';
import { useFetched } from './use-fetched';

type DifferenceTableProps = Readonly<{
  sessionId: string;
  selection: TimeWindow;
  keys: readonly string[];
}>;

/** The two ends of the selection as two cursors: values, differences, means and slope of each column. */
export function DifferenceTable({ sessionId, selection, keys }: DifferenceTableProps) {
  const clock = useClock();
  const query = new URLSearchParams({ from: `${selection.fromS}`, to: `${selection.toS}` });
  for (const key of keys) query.append('c', key);
  const fetched = useFetched(
    `/sessions/${encodeURIComponent(sessionId)}/timeline/differences?${query}`,
    isDifferencesView,
  );
  if (fetched.state === 'failed')
    return (
      <p role="alert">
        The differences could not be computed. {fetched.message}{' '}
        <button type="button" className="button" onClick={fetched.retry}>
          Try again
        </button>
      </p>
    );
  if (fetched.state !== 'ready') return <p className="soft">Computing the differences…</p>;
  const { head, rows, text, csv } = fetched.value;
  if (rows.length === 0) return null;
  return (
    <>
      <section
        className={styles.scroll}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls must be reachable by key
        tabIndex={0}
        aria-label="Between the ends of the selection"
      >
        <table className={styles.table}>
          <caption>Between the ends of the selection</caption>
          <thead>
            <tr>
              <th scope="col">column</th>
              {head.map((name) => (
                <th key={name} scope="col">
                  {name}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.key}>
                <th scope="row">{row.label}</th>
                {row.figures.map((figure) => (
                  <td key={figure.label}>
                    <FigureValue figure={figure} />
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <div className={styles.copies}>
        <CopyButton label="Copy as text" text={tellTimes(text, clock)} />
        <CopyButton label="Copy as CSV" text={csv} />
      </div>
    </>
  );
}
