import { notFound } from 'next/navigation';
import { loadFindings } from '@/lib/server/queries/load-findings';
import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { loadSessionHeader } from '@/lib/server/queries/load-session-header';
import { loadSideTrack } from '@/lib/server/queries/load-side-track';
import { overviewView } from '@/lib/view/overview/overview-view';
import { NotReconstructed } from './_components/not-reconstructed';
import { Overview } from './_components/overview';

type OverviewPageProps = Readonly<{ params: Promise<{ sessionId: string }> }>;

export default async function OverviewPage({ params }: OverviewPageProps) {
  const { sessionId } = await params;
  const [header, reconstruction, findings, track] = await Promise.all([
    loadSessionHeader(sessionId),
    loadReconstruction(sessionId),
    loadFindings(sessionId),
    loadSideTrack(sessionId),
  ]);
  if (header === null) notFound();
  if (reconstruction === null) return <NotReconstructed title="Overview" sessionId={sessionId} />;
  return (
    <Overview
      title={header.title}
      view={overviewView({ reconstruction, findings, track, sessionId })}
    />
  );
}
