import type { DocumentCheck } from '@/lib/core/debrief/check-document';

type CheckListProps = Readonly<{ checks: readonly DocumentCheck[] }>;

/** What stops a publication, then what is worth a second look, and how far the look went. */
export function CheckList({ checks }: CheckListProps) {
  const sorted = [...checks].sort((a, b) => b.gravity.localeCompare(a.gravity));
  return (
    <>
      {checks.length === 0 && (
        <p className="inside">
          Nothing was found: no section is empty, every live value has its figure and reads as when
          it was placed, no number with a unit or decimals was typed by hand, and no sentence the
          program drafts has gone stale.
        </p>
      )}
      {checks.length > 0 && (
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
      )}
      <p className="soft">
        Not looked at: words that people wrote, in the text and in findings, and counts without a
        unit.
      </p>
    </>
  );
}
