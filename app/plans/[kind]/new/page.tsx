import type { Metadata } from 'next';
import { HomeHeader } from '@/app/_components/shell/home-header';
import { VersionEditor } from '@/app/plans/_editor/version-editor';
import { requireKind } from '@/app/plans/versioned-kind';
import { loadTrialSessions } from '@/lib/server/queries/load-register';
import { STARTING_TEXTS } from '@/lib/view/plans/draft-view';
import { KNOWN_QUANTITIES } from '@/lib/view/plans/known-quantities';
import { KIND_WORDS, trialChoices } from '@/lib/view/plans/register-view';

export const metadata: Metadata = { title: 'New' };

type NewPageProps = Readonly<{ params: Promise<{ kind: string }> }>;

export default async function NewPage({ params }: NewPageProps) {
  const kind = requireKind((await params).kind);
  const sessions = await loadTrialSessions(kind);
  return (
    <>
      <HomeHeader />
      <main className="page" id="main" tabIndex={-1}>
        <div className="page-head">
          <h1>A new {KIND_WORDS[kind]}</h1>
          <p>Write it by form or as YAML, or take a file.</p>
        </div>
        <VersionEditor
          kind={kind}
          entryId={null}
          baseNumber={0}
          newestNumber={0}
          text={STARTING_TEXTS[kind]}
          quantities={KNOWN_QUANTITIES}
          sessions={trialChoices(sessions, null)}
        />
      </main>
    </>
  );
}
