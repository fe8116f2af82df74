import type { Metadata } from 'next';
import { loadQuickLook } from '@/lib/server/publish/quick-look';
import { quickLookView } from '@/lib/view/debrief/quick-look-view';
import { NotReconstructed } from '../_components/not-reconstructed';
import { QuickLook } from './_components/quick-look';

export const metadata: Metadata = { title: 'Quick look' };
export const dynamic = 'force-dynamic';

type QuickLookPageProps = Readonly<{ params: Promise<{ sessionId: string }> }>;

/** Two pages on what happened, made by the program from the data at hand. */
export default async function QuickLookPage({ params }: QuickLookPageProps) {
  const { sessionId } = await params;
  const sealed = await loadQuickLook(sessionId);
  if (sealed === null) return <NotReconstructed title="Quick look" sessionId={sessionId} />;
  return <QuickLook view={quickLookView(sealed, sessionId)} />;
}
