import type { Metadata } from 'next';
import Link from 'next/link';
import { loadFolderFiles } from '@/lib/server/queries/load-folder-files';
import { loadImportIssues } from '@/lib/server/queries/load-import-issues';
import { loadKeptSources } from '@/lib/server/queries/load-kept-sources';
import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { loadRecordings } from '@/lib/server/queries/load-recordings';
import { loadSessionHeader } from '@/lib/server/queries/load-session-header';
import { issueRows } from '@/lib/view/import-view';
import { recordingPlace, recordingsView } from '@/lib/view/recordings/recordings-view';
import { inventoryView, otherFiles, remarksOf, sourcesView } from '@/lib/view/sources-view';
import { Inventory } from './_components/inventory';
import { OtherFiles } from './_components/other-files';
import { ReadingRemarks } from './_components/reading-remarks';
import { SourcePanel } from './_components/source-panel';
import { RecordingList } from './recordings/_components/recording-list';

export const metadata: Metadata = { title: 'Sources' };

type SourcesPageProps = Readonly<{ params: Promise<{ sessionId: string }> }>;

export default async function SourcesPage({ params }: SourcesPageProps) {
  const { sessionId } = await params;
  const [kept, reconstruction, issues, header, names, attached] = await Promise.all([
    loadKeptSources(sessionId),
    loadReconstruction(sessionId),
    loadImportIssues(sessionId),
    loadSessionHeader(sessionId),
    loadFolderFiles(sessionId),
    loadRecordings(sessionId),
  ]);
  const session = { id: sessionId, version: header?.version ?? 0 };
  const sources = sourcesView(kept, reconstruction, sessionId);
  const place = recordingPlace(reconstruction, header?.zeroTaiNs ?? '0');
  return (
    <div className="page">
      <div className="page-head">
        <h1>Sources</h1>
        <p>
          Each file as it came, what was read from it and how its clock was put onto session time. A
          file is never changed.
        </p>
        {(header?.timesComputed ?? 0) > 1 && (
          <Link href={`/sessions/${sessionId}/sources/changes`}>
            What the last replacement or correction changed
          </Link>
        )}
      </div>
      {sources.length === 0 && (
        <section className="panel">
          <p className="soft">No file is kept for this session.</p>
        </section>
      )}
      <Inventory rows={inventoryView(kept, reconstruction?.notes ?? [])} session={session} />
      <ReadingRemarks rows={issueRows(remarksOf(issues, reconstruction?.notes ?? []))} />
      {sources.map((source) => (
        <SourcePanel key={source.file} source={source} session={session} />
      ))}
      <RecordingList
        recordings={recordingsView(attached, { sessionId, session: place.session })}
        {...{ sessionId, place }}
      />
      <OtherFiles session={session} files={otherFiles(names, kept)} />
    </div>
  );
}
