import type { Metadata } from 'next';
import Link from 'next/link';
import { loadChanges } from '@/lib/server/queries/load-changes';
import { changesView } from '@/lib/view/changes-view';
import { ChangeTable } from './_components/change-table';
import { PlacesTable } from './_components/places-table';
import { TouchedSentences } from './_components/touched-sentences';
import { VerdictTable } from './_components/verdict-table';

export const metadata: Metadata = { title: 'What changed' };

type ChangesPageProps = Readonly<{ params: Promise<{ sessionId: string }> }>;

export default async function ChangesPage({ params }: ChangesPageProps) {
  const { sessionId } = await params;
  const changes = await loadChanges(sessionId);
  const view = changes === null ? null : changesView(changes);
  return (
    <div className="page">
      <div className="page-head">
        <h1>What changed</h1>
        <p>
          {view?.summary ?? 'This session has been computed once only; nothing was replaced.'}{' '}
          {view?.files.join('; ')}
        </p>
      </div>
      {view !== null && (
        <>
          {view.versions.map(({ key, text, href }) => (
            <p key={key}>
              {text} {href !== null && <Link href={href}>What the two versions say</Link>}
            </p>
          ))}
          <TouchedSentences publications={view.publications} />
          <VerdictTable verdicts={view.verdicts} />
          <PlacesTable heading="Appeared" places={view.appeared} />
          <PlacesTable heading="Gone" places={view.gone} />
          <ChangeTable rows={view.rows} within={view.within} />
        </>
      )}
      <p>
        <Link href={`/sessions/${sessionId}/sources`}>Back to the sources</Link>
      </p>
    </div>
  );
}
