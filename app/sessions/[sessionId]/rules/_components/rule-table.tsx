import Link from 'next/link';
import { FigureValue } from '@/app/_components/figure/figure-value';
import { MarginBar } from '@/app/_components/marks/margin-bar';
import { VerdictMark } from '@/app/_components/marks/verdict-mark';
import { anchorOf } from '@/lib/view/overview/answer-view';
import type { RuleRow } from '@/lib/view/rules-view';
import { Dispositions } from './dispositions';
import styles from './rule-table.module.css';

type RuleTableProps = Readonly<{
  rules: readonly RuleRow[];
  /** The verdict whose rules alone are shown; null for all. */
  only: RuleRow['verdict'] | null;
  /** The page with all of them. */
  allHref: string;
}>;

/** Every rule with what it asks for, its margin and why the verdict is what it is. */
export function RuleTable({ rules: all, only, allHref }: RuleTableProps) {
  const rules = all.filter(({ verdict }) => only === null || verdict === only);
  if (all.length === 0) {
    return (
      <section className="panel">
        <h2>No rules</h2>
        <p className="soft">
          This session came without a rules file. With a <code>rules.yaml</code> in its folder, or a
          rule set put in use for it under <Link href="/plans">Plans and rules</Link>, each rule is
          held against the flight here.
        </p>
      </section>
    );
  }
  if (rules.length === 0) {
    return (
      <section className="panel">
        <h2>Rules {only}</h2>
        <p className="soft">
          No rule of this session came out so.{' '}
          <Link href={allHref} prefetch={false} scroll={false}>
            Show all rules
          </Link>
        </p>
      </section>
    );
  }
  return (
    <section className="panel">
      <h2>{only === null ? 'By margin, worst first' : `Rules ${only}, by margin`}</h2>
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
                {rule.statement !== '' && (
                  <span className={styles.statement}>{rule.statement}</span>
                )}
                <span className={styles.description}>{rule.description}</span>
              </th>
              <td>{rule.bar !== null && <MarginBar bar={rule.bar} tone={rule.tone} />}</td>
              <td className="right">
                {rule.margin !== null && <FigureValue figure={rule.margin} />}
              </td>
              <td className="right">
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
      <p className="panel-note">
        Margins in one unit share a scale; the thin line is the 95 % interval. A margin smaller than
        its own interval leaves the rule undecided. What could not be evaluated is never passed.
      </p>
    </section>
  );
}
