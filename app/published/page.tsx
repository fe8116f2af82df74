import type { Metadata } from 'next';
import { loadPublications } from '@/lib/server/queries/load-publications';
import { publishedRows } from '@/lib/view/debrief/published-view';
import { HomeHeader } from '../_components/shell/home-header';
import { PublishedTable } from './_components/published-table';

export const metadata: Metadata = { title: 'Published' };

export default async function PublishedPage() {
  const rows = publishedRows(await loadPublications());
  return (
    <>
      <HomeHeader />
      <main id="main" tabIndex={-1} className="page">
        <div className="page-head">
          <h1>Published debriefs</h1>
          <p>Frozen records. A published debrief never changes; a revision supersedes it.</p>
        </div>
        <PublishedTable rows={rows} />
      </main>
    </>
  );
}
