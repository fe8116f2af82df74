import type { Metadata } from 'next';
import Link from 'next/link';
import { loadFindings } from '@/lib/server/queries/load-findings';
import { findingsView, readFindingFilter } from '@/lib/view/findings-view';
import { FilterBar } from './_components/filter-bar';
import { FindingTable } from './_components/finding-table';

export const metadata: Metadata = { title: 'Findings' };

type FindingsPageProps = Readonly<{
  params: Promise<{ sessionId: string }>;
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}>;

export default async function FindingsPage({ params, searchParams }: FindingsPageProps) {
  const { sessionId } = await params;
  const filter = readFindingFilter(await searchParams);
  const view = findingsView(await loadFindings(sessionId), filter, sessionId);
  return (
    <div className="page">
      <div className="page-head">
        <h1>Findings</h1>
        <p>What was seen on a stretch of the session, with the figures of that stretch.</p>
        <Link className="button" href={`/sessions/${encodeURIComponent(sessionId)}/timeline`}>
          Write one on the timeline
        </Link>
        <Link className="button" href={`/sessions/${encodeURIComponent(sessionId)}/questions`}>
          Questions for the crew
        </Link>
      </div>
      {view.total > 0 && <FilterBar view={view} />}
      <FindingTable view={view} />
    </div>
  );
}
