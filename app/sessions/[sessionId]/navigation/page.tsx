import type { Metadata } from 'next';
import { loadRangeDifferences } from '@/lib/server/queries/load-range-differences';
import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { navigationView } from '@/lib/view/navigation/navigation-view';
import { NotReconstructed } from '../_components/not-reconstructed';
import { Navigation } from './_components/navigation';

export const metadata: Metadata = { title: 'Navigation' };

type NavigationPageProps = Readonly<{ params: Promise<{ sessionId: string }> }>;

export default async function NavigationPage({ params }: NavigationPageProps) {
  const { sessionId } = await params;
  const reconstruction = await loadReconstruction(sessionId);
  if (reconstruction === null) {
    return <NotReconstructed title="Navigation" sessionId={sessionId} />;
  }
  const differences = await loadRangeDifferences(sessionId);
  return <Navigation view={navigationView(reconstruction, sessionId, differences)} />;
}
