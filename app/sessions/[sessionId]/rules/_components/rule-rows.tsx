import Link from 'next/link';
import { FigureValue } from '@/app/_components/figure/figure-value';
import { MarginBar } from '@/app/_components/marks/margin-bar';
import { VerdictMark } from '@/app/_components/marks/verdict-mark';
import { anchorOf } from '@/lib/view/overview/answer-view';
import type { RuleRow } from '@/lib/view/rules-view';
import { Dispositions } from './dispositions';
import styles from './rule-table.module.css';

/** One row a rule: what it asks for, its bar and margins, its verdict and why. */
export function RuleRows({ rules }: Readonly<{ rules: readonly RuleRow[] }>) {
  return (
    <table className="data">
      <thead>
        <tr>
          <th scope="col">rule</th>
          <th scope="col" className={styles.bar}>
            <span className={styles.ends}>
              <span>beyond</span>
              <span>room left</span>
            </span>
          </th>
          <th scope="col" className="right">
            margin
          </th>
          <th scope="col" className="right">
            at the worst instant
          </th>
          <th scope="col">verdict, and why</th>
        </tr>
      </thead>
      <tbody>
        {rules.map((rule, index) => (
          <tr key={rule.id} id={`rule-${rule.id}`}>
            <th scope="row" className={styles.rule}>
              {rules[index - 1]?.verdict !== rule.verdict && <span id={anchorOf(rule.verdict)} />}
              {rule.name}
              {rule.statement !== '' && <span className={styles.statement}>{rule.statement}</span>}
              <span className={styles.description}>{rule.description}</span>
            </th>
            <td>{rule.bar !== null && <MarginBar bar={rule.bar} tone={rule.tone} />}</td>
            <td className={`right ${styles.margin}`}>
              {rule.margin !== null && <FigureValue figure={rule.margin} />}
            </td>
            <td className={`right ${styles.margin}`}>
              {rule.instantMargin !== null && <FigureValue figure={rule.instantMargin} />}
            </td>
            <td className={`words ${styles.why}`}>
              <VerdictMark verdict={rule.verdict} />
              <span className={styles.statement}>
                {rule.explanation}
                {rule.where !== null && (
                  <>
                    {' '}
                    <Link href={rule.where.href} prefetch={false}>
                      {rule.where.text}
                    </Link>
                  </>
                )}
              </span>
              <Dispositions list={rule.dispositions} />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
