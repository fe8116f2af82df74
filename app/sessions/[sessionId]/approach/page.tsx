import type { Metadata } from 'next';
import { loadNearTrack } from '@/lib/server/queries/load-approach-track';
import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { approachView, readNear } from '@/lib/view/approach/approach-view';
import { readMoment } from '@/lib/view/approach/moment';
import { NotReconstructed } from '../_components/not-reconstructed';
import { Approach } from './_components/approach';
import { NoApproach } from './_components/no-approach';

export const metadata: Metadata = { title: 'Approach' };

type ApproachPageProps = Readonly<{
  params: Promise<{ sessionId: string }>;
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}>;

export default async function ApproachPage({ params, searchParams }: ApproachPageProps) {
  const { sessionId } = await params;
  const asked = await searchParams;
  const reconstruction = await loadReconstruction(sessionId);
  if (reconstruction === null) return <NotReconstructed title="Approach" sessionId={sessionId} />;
  const { evaluated } = reconstruction;
  const nearM = readNear(asked.near);
  const track = evaluated === null ? null : await loadNearTrack(sessionId, evaluated, nearM);
  if (track === null) return <NoApproach />;
  const view = approachView(reconstruction, track, { sessionId, nearM });
  return <Approach view={view} atS={readMoment(asked.at)} />;
}
