import type { Metadata } from 'next';
import Link from 'next/link';
import { notFound } from 'next/navigation';
import { HomeHeader } from '@/app/_components/shell/home-header';
import { loadEntry, loadEntryTrials, loadTrialSessions } from '@/lib/server/queries/load-register';
import { FILE_NAMES } from '@/lib/server/read-version';
import { TRIALS_KEPT } from '@/lib/server/trials/prune-trials';
import { KIND_NAMES, usageRows, versionRows } from '@/lib/view/plans/register-view';
import { trialView } from '@/lib/view/plans/trial-view';
import { requireKind } from '../../versioned-kind';
import { TrialList } from './_components/trial-list';
import { UseTable } from './_components/use-table';
import { VersionTable } from './_components/version-table';

export const metadata: Metadata = { title: 'Versions' };

type EntryPageProps = Readonly<{ params: Promise<{ kind: string; entryId: string }> }>;

export default async function EntryPage({ params }: EntryPageProps) {
  const { kind: asked, entryId } = await params;
  const kind = requireKind(asked);
  const [entry, sessions, trials] = await Promise.all([
    loadEntry(kind, entryId),
    loadTrialSessions(kind),
    loadEntryTrials(entryId),
  ]);
  if (entry === null) notFound();
  const rows = versionRows(entry, FILE_NAMES[kind]);
  const versions = entry.versions.map(({ id, number, sha256 }) => ({ id, number, sha256 }));
  return (
    <>
      <HomeHeader />
      <main className="page" id="main" tabIndex={-1}>
        <div className="page-head">
          <h1>{entry.title}</h1>
          <p>
            {KIND_NAMES[kind]}, {rows[0]?.when}. <Link href="/plans">All plans and rules</Link>
          </p>
        </div>
        <VersionTable rows={rows} />
        {kind !== 'template' && (
          <>
            <UseTable kind={kind} versions={versions} {...usageRows(entryId, sessions)} />
            <TrialList trials={trials.map(trialView)} versions={versions} kept={TRIALS_KEPT} />
          </>
        )}
      </main>
    </>
  );
}
