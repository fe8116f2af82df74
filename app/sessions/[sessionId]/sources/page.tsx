import type { Metadata } from 'next';
import { loadImportIssues } from '@/lib/server/queries/load-import-issues';
import { loadKeptSources } from '@/lib/server/queries/load-kept-sources';
import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { issueRows } from '@/lib/view/import-view';
import { sourcesView } from '@/lib/view/sources-view';
import { ReadingRemarks } from './_components/reading-remarks';
import { SourcePanel } from './_components/source-panel';

export const metadata: Metadata = { title: 'Sources' };

type SourcesPageProps = Readonly<{ params: Promise<{ sessionId: string }> }>;

export default async function SourcesPage({ params }: SourcesPageProps) {
  const { sessionId } = await params;
  const [kept, reconstruction, issues] = await Promise.all([
    loadKeptSources(sessionId),
    loadReconstruction(sessionId),
    loadImportIssues(sessionId),
  ]);
  const sources = sourcesView(kept, reconstruction, sessionId);
  return (
    <div className="page">
      <div className="page-head">
        <h1>Sources</h1>
        <p>
          Each file as it came, what was read from it and how its clock was put onto session time. A
          file is never changed.
        </p>
      </div>
      {sources.length === 0 && (
        <section className="panel">
          <p className="soft">No file is kept for this session.</p>
        </section>
      )}
      <ReadingRemarks rows={issueRows(issues)} />
      {sources.map((source) => (
        <SourcePanel key={source.file} source={source} />
      ))}
    </div>
  );
}
