import Link from 'next/link';
import type { OpenDescriptionRow } from '@/lib/view/describe-view';

type OpenDescriptionsProps = Readonly<{ rows: readonly OpenDescriptionRow[] }>;

/** Files that wait for somebody to say what they are. */
export function OpenDescriptions({ rows }: OpenDescriptionsProps) {
  if (rows.length === 0) return null;
  return (
    <section className="panel" aria-label="Waiting for a description">
      <h2>Waiting for a description</h2>
      <ul className="plain stack">
        {rows.map(({ href, files, sent }) => (
          <li key={href} className="row">
            <Link href={href}>{files}</Link>
            <span className="soft">{sent}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}
