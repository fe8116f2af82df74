import type { Metadata } from 'next';
import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { rulesView } from '@/lib/view/rules-view';
import { NotReconstructed } from '../_components/not-reconstructed';
import { ExceedanceTable } from './_components/exceedance-table';
import { RuleTable } from './_components/rule-table';
import { VerdictSummary } from './_components/verdict-summary';

export const metadata: Metadata = { title: 'Rules' };

type RulesPageProps = Readonly<{ params: Promise<{ sessionId: string }> }>;

export default async function RulesPage({ params }: RulesPageProps) {
  const { sessionId } = await params;
  const reconstruction = await loadReconstruction(sessionId);
  if (reconstruction === null) return <NotReconstructed title="Rules" sessionId={sessionId} />;
  const view = rulesView(reconstruction, sessionId);
  return (
    <div className="page">
      <div className="page-head">
        <h1>Rules</h1>
        <p>Each rule’s verdict is a margin: how much room was left, or how far it was passed.</p>
      </div>
      <VerdictSummary view={view} />
      <RuleTable rules={view.rules} />
      <ExceedanceTable rows={view.exceedances} />
    </div>
  );
}
