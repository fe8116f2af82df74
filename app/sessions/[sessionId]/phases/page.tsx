import type { Metadata } from 'next';
import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { phasesView } from '@/lib/view/phases-view';
import { NotReconstructed } from '../_components/not-reconstructed';
import { PhaseTable } from './_components/phase-table';
import { RateTable } from './_components/rate-table';

export const metadata: Metadata = { title: 'Phases' };

type PhasesPageProps = Readonly<{ params: Promise<{ sessionId: string }> }>;

export default async function PhasesPage({ params }: PhasesPageProps) {
  const { sessionId } = await params;
  const reconstruction = await loadReconstruction(sessionId);
  if (reconstruction === null) return <NotReconstructed title="Phases" sessionId={sessionId} />;
  const view = phasesView(reconstruction, sessionId);
  return (
    <div className="page">
      <div className="page-head">
        <h1>Phases</h1>
        <p>
          {view.planTitle === null
            ? 'Phases need a plan: its hold rate tells motion apart. None came with this session.'
            : `Runs of motion, matched in order to the steps of ${view.planTitle}.`}
        </p>
      </div>
      <PhaseTable rows={view.rows} />
      <RateTable rows={view.rates} />
    </div>
  );
}
