import type { Metadata } from 'next';
import { loadDispositions } from '@/lib/server/queries/load-corrections';
import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { loadRulesInUse } from '@/lib/server/queries/load-register';
import { loadChangedSince } from '@/lib/server/queries/load-version-uses';
import { dispositionList, entryChoices, ruleChoices } from '@/lib/view/dispositions-view';
import { coverageLines, nearMissRows } from '@/lib/view/near-miss-view';
import { entryPlace } from '@/lib/view/phase-edit-form';
import { rulesInUseView } from '@/lib/view/plans/rules-in-use-view';
import { pollChoices, readPollInstant } from '@/lib/view/poll-view';
import { readVerdict, rulesView, verdictChoices } from '@/lib/view/rules-view';
import { NotReconstructed } from '../_components/not-reconstructed';
import { PageParts } from '../_components/page-parts';
import { CorrectionList } from '../sources/_components/correction-list';
import { CoverageTable } from './_components/coverage-table';
import { DispositionForm } from './_components/disposition-form';
import { ExceedanceTable } from './_components/exceedance-table';
import { NearMissTable } from './_components/near-miss-table';
import { PollBoard } from './_components/poll-board';
import { RuleTable } from './_components/rule-table';
import { RulesInUse } from './_components/rules-in-use';
import { VerdictSummary } from './_components/verdict-summary';

export const metadata: Metadata = { title: 'Rules' };

const PARTS = [
  { id: 'margins', name: 'By margin' },
  { id: 'beyond', name: 'Beyond limits' },
  { id: 'near', name: 'Near misses' },
  { id: 'coverage', name: 'Coverage' },
  { id: 'poll', name: 'State at a poll' },
  { id: 'decide', name: 'Waive or amend' },
];

type RulesPageProps = Readonly<{
  params: Promise<{ sessionId: string }>;
  searchParams: Promise<{ at?: string | string[]; verdict?: string | string[] }>;
}>;

export default async function RulesPage({ params, searchParams }: RulesPageProps) {
  const [{ sessionId }, { at, verdict }] = await Promise.all([params, searchParams]);
  const reconstruction = await loadReconstruction(sessionId);
  if (reconstruction === null) return <NotReconstructed title="Rules" sessionId={sessionId} />;
  const view = rulesView(reconstruction, sessionId);
  const decisions = dispositionList(reconstruction, await loadDispositions(sessionId));
  const used = rulesInUseView(await loadRulesInUse(sessionId), await loadChangedSince(sessionId));
  const asked = readPollInstant(
    typeof at === 'string' ? at : undefined,
    entryPlace(reconstruction),
  );
  const chosen = readVerdict(verdict);
  const choices = verdictChoices(view, chosen, asked.atS);
  return (
    <div className="page">
      <div className="page-head">
        <h1>Rules</h1>
        <p>Each rule’s verdict is a margin: how much room was left, or how far it was passed.</p>
      </div>
      {view.rules.length > 0 && <PageParts parts={PARTS} />}
      <RulesInUse view={used} />
      <VerdictSummary choices={choices} />
      <RuleTable
        rules={view.rules}
        only={chosen}
        allHref={choices.find((choice) => choice.verdict === null)?.href ?? '?'}
      />
      {view.rules.length > 0 && (
        <>
          <ExceedanceTable rows={view.exceedances} />
          <div className="columns">
            <NearMissTable rows={nearMissRows(reconstruction, sessionId)} />
            <CoverageTable lines={coverageLines(reconstruction)} />
          </div>
        </>
      )}
      <PollBoard
        sessionId={sessionId}
        asked={asked}
        verdict={chosen}
        choices={pollChoices(reconstruction, sessionId, { atS: asked.atS, verdict: chosen })}
      />
      <CorrectionList
        title="Dispositions"
        rows={decisions.rows}
        sessionId={sessionId}
        empty="Nobody has waived or amended a rule of this session."
      />
      <DispositionForm
        sessionId={sessionId}
        rules={ruleChoices(reconstruction)}
        entries={entryChoices(reconstruction)}
      />
    </div>
  );
}
