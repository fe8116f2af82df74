import Link from 'next/link';
import type { RulesInUseView } from '@/lib/view/plans/rules-in-use-view';

type RulesInUseProps = Readonly<{ view: RulesInUseView | null }>;

/** Which version of which rule set judges here, and decisions about rules that changed since. */
export function RulesInUse({ view }: RulesInUseProps) {
  if (view === null) return null;
  return (
    <div>
      <p className="soft">
        <Link href={view.href}>{view.text}</Link>{' '}
        {view.newer !== null && <Link href={view.newer.href}>{view.newer.text}</Link>}
      </p>
      {view.changed.map(({ key, text, href }) => (
        <p key={key} className="unsure">
          {text} <Link href={href}>What changed</Link>
        </p>
      ))}
    </div>
  );
}
