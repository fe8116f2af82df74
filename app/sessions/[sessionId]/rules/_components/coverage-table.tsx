import type { CoverageLine } from '@/lib/view/near-miss-view';
import styles from './coverage-table.module.css';

type CoverageTableProps = Readonly<{ lines: readonly CoverageLine[] }>;

/** How much of the rule set was held against the flight, and why the rest was not. */
export function CoverageTable({ lines }: CoverageTableProps) {
  if (lines.length === 0) return null;
  return (
    <section className="panel" id="coverage">
      <h2>Coverage of the rule set</h2>
      <table className="data">
        <thead>
          <tr>
            <th scope="col">reason</th>
            <th scope="col" className={styles.bar}>
              part of the rules
            </th>
            <th scope="col" className="right">
              rules
            </th>
            <th scope="col">which, and what would help</th>
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => (
            <tr key={line.key}>
              <th scope="row" className={line.isOpen ? 'unsure' : undefined}>
                {line.state}
              </th>
              <td>
                <svg
                  className={styles.share}
                  viewBox="0 0 100 8"
                  preserveAspectRatio="none"
                  aria-hidden="true"
                >
                  <rect className={styles.track} x="0" y="3" width="100" height="2" />
                  <rect
                    className={line.isOpen ? styles.open : styles.judged}
                    x="0"
                    y="0"
                    width={line.share * 100}
                    height="8"
                  />
                </svg>
              </td>
              <td className="right num">{line.count}</td>
              <td>
                {line.words}
                {line.rules.length > 0 && (
                  <span className={styles.rules}>{line.rules.join(', ')}</span>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="panel-note">What could not be evaluated is never passed.</p>
    </section>
  );
}
