import Link from 'next/link';
import type { LastPublishedView } from '@/lib/view/debrief/published-view';

type PublishedNoticeProps = Readonly<{ last: LastPublishedView; isRevising: boolean }>;

/** What was published last, and the way to a revision. */
export function PublishedNotice({ last, isRevising }: PublishedNoticeProps) {
  return (
    <section className="panel stack" aria-label="Published">
      <p>
        {last.text}{' '}
        {isRevising
          ? 'You are writing its next revision: what was published stays as it is.'
          : 'It never changes; a revision supersedes it.'}
      </p>
      {last.begun !== null && !isRevising && <p className="unsure">{last.begun}</p>}
      <div className="row">
        <Link className="button primary" href={last.href}>
          Open what was published
        </Link>
        {!isRevising && (
          <Link className="button" href={last.reviseHref}>
            {last.reviseLabel}
          </Link>
        )}
      </div>
    </section>
  );
}
