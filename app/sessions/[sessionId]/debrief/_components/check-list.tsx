import type { DocumentCheck } from '@/lib/core/debrief/check-document';

type CheckListProps = Readonly<{ checks: readonly DocumentCheck[] }>;

/** What stops a publication, then what is worth a second look. */
export function CheckList({ checks }: CheckListProps) {
  if (checks.length === 0) {
    return (
      <p className="inside">Nothing to look at: every section is filled, every value stands.</p>
    );
  }
  const sorted = [...checks].sort((a, b) => b.gravity.localeCompare(a.gravity));
  return (
    <ul>
      {sorted.map((check) => (
        <li
          key={`${check.blockId} ${check.message}`}
          className={check.gravity === 'stops' ? 'beyond' : ''}
        >
          {check.gravity === 'stops' ? 'Must be mended: ' : 'Look again: '}
          {check.message}
        </li>
      ))}
    </ul>
  );
}
