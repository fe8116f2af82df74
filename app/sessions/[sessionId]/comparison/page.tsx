import type { Metadata } from 'next';
import { loadAligned } from '@/lib/server/queries/load-aligned';
import { loadModelChanges } from '@/lib/server/queries/load-model-changes';
import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { type AskedAddress, queryOfAddress, questionOfQuery } from '@/lib/view/compare-question';
import { comparisonView } from '@/lib/view/comparison-view';
import { MODEL_CHANGE_WORDS, modelChangeRows } from '@/lib/view/model-change-view';
import { whyNoComparison } from '@/lib/view/why-no-comparison';
import { NotReconstructed } from '../_components/not-reconstructed';
import { ComparisonBody } from './_components/comparison-body';
import { ModelChanges } from './_components/model-changes';
import { NoRuns } from './_components/no-runs';
import { RunSessions } from './_components/run-sessions';

export const metadata: Metadata = { title: 'Comparison' };

type ComparisonPageProps = Readonly<{
  params: Promise<{ sessionId: string }>;
  searchParams: Promise<AskedAddress>;
}>;

export default async function ComparisonPage({ params, searchParams }: ComparisonPageProps) {
  const { sessionId } = await params;
  const reconstruction = await loadReconstruction(sessionId);
  if (reconstruction === null) return <NotReconstructed title="Comparison" sessionId={sessionId} />;
  const query = queryOfAddress(await searchParams);
  const question = questionOfQuery(query);
  const asked = question === null ? null : await loadAligned(sessionId, question);
  const view = comparisonView(reconstruction, sessionId, { question, asked, query });
  const rows = modelChangeRows(await loadModelChanges(sessionId), sessionId);
  const changes = { sessionId, query, rows, states: MODEL_CHANGE_WORDS };
  return (
    <div className="page">
      <div className="page-head">
        <h1>Comparison</h1>
        <p>
          The last move as flown, held against the same move of other runs; quantity by quantity
          also any other step that both flew.
        </p>
      </div>
      {view === null ? (
        <NoRuns why={whyNoComparison(reconstruction)} />
      ) : (
        <ComparisonBody view={view} />
      )}
      {(view !== null || rows.length > 0) && (
        <ModelChanges {...changes} evidence={view?.evidence ?? []} />
      )}
      <RunSessions sessionId={sessionId} />
    </div>
  );
}
