import type { Metadata } from 'next';
import Link from 'next/link';
import { notFound } from 'next/navigation';
import { HomeHeader } from '@/app/_components/shell/home-header';
import { loadTrial } from '@/lib/server/queries/load-trial';
import { entryHref } from '@/lib/view/plans/register-view';
import { trialView } from '@/lib/view/plans/trial-view';
import { TrialSessions } from '../../_components/trial-sessions';

export const metadata: Metadata = { title: 'What a change does' };

type TrialPageProps = Readonly<{ params: Promise<{ jobId: string }> }>;

export default async function TrialPage({ params }: TrialPageProps) {
  const kept = await loadTrial((await params).jobId);
  if (kept === null) notFound();
  const { kind, entryId } = kept.trial;
  const view = trialView(kept);
  return (
    <>
      <HomeHeader />
      <main className="page" id="main" tabIndex={-1}>
        <div className="page-head">
          <h1>What a change does</h1>
          <p>
            Held against the sessions on {view.when}: {view.summary}. Nothing of them was changed.
          </p>
        </div>
        <section className="panel">
          <TrialSessions sessions={view.sessions} />
        </section>
        <p>
          <Link href={entryId === null ? '/plans' : entryHref(kind, entryId)}>
            {kind === 'plan' ? 'Back to the plan' : 'Back to the rule set'}
          </Link>
        </p>
      </main>
    </>
  );
}
