import Link from 'next/link';
import type { StretchesView } from '@/lib/view/stretches-view';

/** What a long list of faults holds, and the way to its other pages. */
export function FaultPages({ counts, pages }: Pick<StretchesView, 'counts' | 'pages'>) {
  if (pages.before === null && pages.after === null) return null;
  return (
    <nav className="panel-note" aria-label="Pages of the faults">
      {counts}. Shown: {pages.text}.{' '}
      {pages.before !== null && <Link href={pages.before}>Earlier ones</Link>}
      {pages.before !== null && pages.after !== null && ' · '}
      {pages.after !== null && <Link href={pages.after}>Later ones</Link>}
    </nav>
  );
}
