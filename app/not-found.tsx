import type { Metadata } from 'next';
import Link from 'next/link';
import { PlainPage } from './_components/shell/plain-page';

export const metadata: Metadata = { title: 'Nothing here' };

export default function NotFound() {
  return (
    <PlainPage title="Nothing is kept at this address">
      <p>
        The session, finding or debrief may have been removed, or the address was not copied whole.
      </p>
      <div className="row">
        <Link className="button primary" href="/">
          All sessions
        </Link>
        <Link className="button" href="/published">
          Published debriefs
        </Link>
      </div>
    </PlainPage>
  );
}
