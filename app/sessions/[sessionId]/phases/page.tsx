import type { Metadata } from 'next';
import { loadPhaseEdits } from '@/lib/server/queries/load-corrections';
import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { sequenceView } from '@/lib/view/as-flown-view';
import { commandedRows } from '@/lib/view/commanded-view';
import { editsVersion, phaseEditRows, stepChoices } from '@/lib/view/phase-edit-view';
import { phasesAnswer } from '@/lib/view/phases-answer';
import { phasesView } from '@/lib/view/phases-view';
import { InShort } from '../_components/in-short';
import { NotReconstructed } from '../_components/not-reconstructed';
import { PageParts } from '../_components/page-parts';
import { CorrectionList } from '../sources/_components/correction-list';
import { CommandedTable } from './_components/commanded-table';
import { PhaseTable } from './_components/phase-table';
import { RateTable } from './_components/rate-table';
import { SequenceTable } from './_components/sequence-table';

export const metadata: Metadata = { title: 'Phases' };

const PARTS = [
  { id: 'steps', name: 'Steps and runs' },
  { id: 'rates', name: 'Closing rate against plan' },
  { id: 'sequence', name: 'Sequence as flown' },
];

type PhasesPageProps = Readonly<{
  params: Promise<{ sessionId: string }>;
  searchParams: Promise<{ said?: string | string[] }>;
}>;

export default async function PhasesPage({ params, searchParams }: PhasesPageProps) {
  const [{ sessionId }, query] = await Promise.all([params, searchParams]);
  const said = query.said === 'all' ? 'all' : 'events';
  const reconstruction = await loadReconstruction(sessionId);
  if (reconstruction === null) return <NotReconstructed title="Phases" sessionId={sessionId} />;
  const view = phasesView(reconstruction, sessionId);
  const commanded = commandedRows(reconstruction, sessionId);
  const kept = await loadPhaseEdits(sessionId);
  const place = { sessionId, version: editsVersion(kept), steps: stepChoices(reconstruction) };
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
      <PageParts parts={PARTS} />
      <InShort sentences={phasesAnswer(reconstruction, sessionId)} />
      <PhaseTable rows={view.rows} place={place} />
      {commanded !== null && <CommandedTable rows={commanded} />}
      <RateTable rows={view.rates} lead={view.ratesLead} />
      <CorrectionList
        title="Corrections of phases and contact"
        rows={phaseEditRows(reconstruction, kept)}
        sessionId={sessionId}
        empty="Nobody has moved an edge, split or named a run, or declared contact."
      />
      <SequenceTable
        view={sequenceView(reconstruction, said, sessionId)}
        said={said}
        path={`/sessions/${sessionId}/phases`}
      />
    </div>
  );
}
