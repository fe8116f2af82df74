import type { Metadata } from 'next';
import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { comparisonView } from '@/lib/view/comparison-view';
import { NotReconstructed } from '../_components/not-reconstructed';
import { ComparisonSummary } from './_components/comparison-summary';
import { NoRuns } from './_components/no-runs';
import { QuantityPanel } from './_components/quantity-panel';
import { ScoreTable } from './_components/score-table';

export const metadata: Metadata = { title: 'Comparison' };

type ComparisonPageProps = Readonly<{ params: Promise<{ sessionId: string }> }>;

export default async function ComparisonPage({ params }: ComparisonPageProps) {
  const { sessionId } = await params;
  const reconstruction = await loadReconstruction(sessionId);
  if (reconstruction === null) return <NotReconstructed title="Comparison" sessionId={sessionId} />;
  const view = comparisonView(reconstruction, sessionId);
  return (
    <div className="page">
      <div className="page-head">
        <h1>Comparison</h1>
        <p>The final step as flown, held against the same step of simulator runs.</p>
      </div>
      {view === null ? (
        <NoRuns />
      ) : (
        <>
          <ComparisonSummary view={view} />
          <div className="columns">
            {view.cards.map((card) => (
              <QuantityPanel key={card.key} card={card} />
            ))}
          </div>
          <ScoreTable scores={view.scores} />
        </>
      )}
    </div>
  );
}
