import Link from 'next/link';
import type { RuleRow } from '@/lib/view/rules-view';
import { RuleRows } from './rule-rows';
import styles from './rule-table.module.css';

type RuleTableProps = Readonly<{
  rules: readonly RuleRow[];
  /** The verdict whose rules alone are shown; null for all. */
  only: RuleRow['verdict'] | null;
  /** The page with all of them. */
  allHref: string;
}>;

/** Of more rules than these, those that ask for nothing are folded. */
const MOST_OPEN = 40;

const isQuiet = (verdict: RuleRow['verdict']): boolean =>
  verdict === 'met' || verdict === 'not applicable';

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
      <section className="panel" id="margins">
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
  const isLong = only === null && rules.length > MOST_OPEN;
  const folded = isLong ? rules.filter(({ verdict }) => isQuiet(verdict)) : [];
  const shown = isLong ? rules.filter(({ verdict }) => !isQuiet(verdict)) : rules;
  return (
    <section className="panel" id="margins">
      <h2>{only === null ? 'By margin, worst first' : `Rules ${only}, by margin`}</h2>
      <RuleRows rules={shown} />
      {folded.length > 0 && (
        <details className={styles.folded}>
          <summary>{folded.length} rules that were met or do not apply</summary>
          <RuleRows rules={folded} />
        </details>
      )}
      <p className="panel-note">
        Margins in one unit share a scale; the thin line is the 95 % interval. A margin smaller than
        its own interval leaves the rule undecided. What could not be evaluated is never passed.
      </p>
    </section>
  );
}
