import Link from 'next/link';
import { FigureValue } from '@/app/_components/figure/figure-value';
import { MarginBar } from '@/app/_components/marks/margin-bar';
import { VerdictMark } from '@/app/_components/marks/verdict-mark';
import type { RuleRow } from '@/lib/view/rules-view';
import styles from './summary-tables.module.css';

type RuleMarginsProps = Readonly<{ rules: readonly RuleRow[]; href: string }>;

/** So many rules stand on the overview; of a longer rule set the worst. */
const MOST_ROWS = 12;

/** Rules, worst first, each with the room it left. */
export function RuleMargins({ rules, href }: RuleMarginsProps) {
  const shown = rules.length > MOST_ROWS + 2 ? rules.slice(0, MOST_ROWS) : rules;
  const more = rules.length - shown.length;
  return (
    <section className="panel">
      <h2>Rules by margin</h2>
      {rules.length === 0 ? (
        <p className="soft">
          This session came without rules. Put a rule set in use for it under{' '}
          <Link href="/plans">Plans and rules</Link>.
        </p>
      ) : (
        <table className="data">
          <thead>
            <tr>
              <th scope="col">rule</th>
              <th scope="col" className={styles.bar}>
                <span aria-hidden="true" className={styles.ends}>
                  <span>beyond</span>
                  <span>room left</span>
                </span>
                <span className="visually-hidden">margin as a bar</span>
              </th>
              <th scope="col" className="right">
                margin
              </th>
              <th scope="col">verdict</th>
            </tr>
          </thead>
          <tbody>
            {shown.map((rule) => (
              <tr key={rule.id}>
                <th scope="row">
                  <Link className={styles.quiet} href={`${href}#rule-${rule.id}`}>
                    {rule.name}
                  </Link>
                </th>
                <td className={styles.bar}>
                  {rule.bar !== null && <MarginBar bar={rule.bar} tone={rule.tone} />}
                </td>
                <td className="right">
                  {rule.margin === null ? '' : <FigureValue figure={rule.margin} />}
                </td>
                <td>
                  <VerdictMark verdict={rule.verdict} />
                  {rule.dispositions.map(({ key, text }) => (
                    <div key={key} className="soft">
                      {text}
                    </div>
                  ))}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <p className="panel-note">
        {rules.length > 0 &&
          'Margins in one unit share a scale; the thin line is the 95 % interval. '}
        {more > 0 && `The worst ${shown.length} of ${rules.length} rules. `}
        <span className="no-print">
          <Link href={href}>Rules</Link>, with what each asks for
        </span>
      </p>
    </section>
  );
}
