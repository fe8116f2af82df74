import type { Metadata } from 'next';
import Link from 'next/link';
import { notFound } from 'next/navigation';
import { HomeHeader } from '@/app/_components/shell/home-header';
import { VersionEditor } from '@/app/plans/_editor/version-editor';
import { requireKind, versionNumber } from '@/app/plans/versioned-kind';
import { loadEntry, loadTrialSessions, loadVersionText } from '@/lib/server/queries/load-register';
import { KNOWN_QUANTITIES } from '@/lib/view/plans/known-quantities';
import { entryHref, trialChoices } from '@/lib/view/plans/register-view';

export const metadata: Metadata = { title: 'Edit' };

type EditPageProps = Readonly<{
  params: Promise<{ kind: string; entryId: string }>;
  searchParams: Promise<{ from?: string | string[] }>;
}>;

export default async function EditPage({ params, searchParams }: EditPageProps) {
  const [{ kind: asked, entryId }, query] = await Promise.all([params, searchParams]);
  const kind = requireKind(asked);
  const [entry, sessions] = await Promise.all([loadEntry(kind, entryId), loadTrialSessions(kind)]);
  const newest = entry?.versions[0]?.number ?? 0;
  const from = versionNumber(query.from) ?? newest;
  const version = await loadVersionText(kind, entryId, from);
  if (entry === null || version === null) notFound();
  return (
    <>
      <HomeHeader />
      <main className="page" id="main" tabIndex={-1}>
        <div className="page-head">
          <h1>{entry.title}</h1>
          <p>
            Edited from version {from}.{' '}
            <Link href={entryHref(kind, entryId)}>All its versions</Link>
          </p>
        </div>
        <VersionEditor
          key={`${entryId} ${from}`}
          kind={kind}
          entryId={entryId}
          baseNumber={from}
          newestNumber={newest}
          text={version.text}
          quantities={KNOWN_QUANTITIES}
          sessions={trialChoices(sessions, entryId)}
        />
      </main>
    </>
  );
}
