import type { Metadata } from 'next';
import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { pollChoices, readPollInstant } from '@/lib/view/poll-view';
import { rulesView } from '@/lib/view/rules-view';
import { NotReconstructed } from '../_components/not-reconstructed';
import { ExceedanceTable } from './_components/exceedance-table';
import { PollBoard } from './_components/poll-board';
import { RuleTable } from './_components/rule-table';
import { VerdictSummary } from './_components/verdict-summary';

export const metadata: Metadata = { title: 'Rules' };

type RulesPageProps = Readonly<{
  params: Promise<{ sessionId: string }>;
  searchParams: Promise<{ at?: string | string[] }>;
}>;

export default async function RulesPage({ params, searchParams }: RulesPageProps) {
  const [{ sessionId }, { at }] = await Promise.all([params, searchParams]);
  const reconstruction = await loadReconstruction(sessionId);
  if (reconstruction === null) return <NotReconstructed title="Rules" sessionId={sessionId} />;
  const view = rulesView(reconstruction, sessionId);
  const asked = readPollInstant(typeof at === 'string' ? at : undefined);
  return (
    <div className="page">
      <div className="page-head">
        <h1>Rules</h1>
        <p>Each rule’s verdict is a margin: how much room was left, or how far it was passed.</p>
      </div>
      <VerdictSummary view={view} />
      <RuleTable rules={view.rules} />
      <ExceedanceTable rows={view.exceedances} />
      <PollBoard
        sessionId={sessionId}
        asked={asked}
        choices={pollChoices(reconstruction, sessionId, asked.atS)}
      />
    </div>
  );
}
