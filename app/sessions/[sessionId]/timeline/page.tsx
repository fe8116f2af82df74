import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { loadAnnotations } from '@/lib/server/queries/load-annotations';
import { loadArrangements } from '@/lib/server/queries/load-arrangements';
import { loadChannels } from '@/lib/server/queries/load-channels';
import { loadFindings } from '@/lib/server/queries/load-findings';
import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { loadRecordings } from '@/lib/server/queries/load-recordings';
import { loadRemarkStamp } from '@/lib/server/queries/load-remark-stamp';
import { loadReplacement } from '@/lib/server/queries/load-replacement';
import { loadSessionHeader } from '@/lib/server/queries/load-session-header';
import { replacementView } from '@/lib/view/renewal-view';
import { timelineView } from '@/lib/view/timeline';
import { NotReconstructed } from '../_components/not-reconstructed';
import { RenewalNotice } from '../_components/renewal-notice';
import { TimelineAtAddress } from './_components/timeline-at-address';

export const metadata: Metadata = { title: 'Timeline' };

type TimelinePageProps = Readonly<{ params: Promise<{ sessionId: string }> }>;

export default async function TimelinePage({ params }: TimelinePageProps) {
  const { sessionId } = await params;
  // Before what it stands for: a change in between is then asked for once too often, never missed.
  const stamp = await loadRemarkStamp(sessionId);
  const [session, reconstruction, channels, findings, annotations] = await Promise.all([
    loadSessionHeader(sessionId),
    loadReconstruction(sessionId),
    loadChannels(sessionId),
    loadFindings(sessionId),
    loadAnnotations(sessionId),
  ]);
  if (session === null) notFound();
  if (reconstruction === null) return <NotReconstructed title="Timeline" sessionId={sessionId} />;
  const [arrangements, recordings] = await Promise.all([
    loadArrangements(),
    loadRecordings(sessionId),
  ]);
  const kept = { findings, annotations, arrangements, recordings };
  const view = timelineView({ sessionId, reconstruction, channels, ...kept });
  const replacing = replacementView(await loadReplacement(sessionId));
  return (
    <>
      {replacing !== null && <RenewalNotice view={replacing} />}
      <TimelineAtAddress key={view.edition} view={view} stamp={stamp ?? ''} />
    </>
  );
}
