import type { Metadata } from 'next';
import { Suspense } from 'react';
import { TouchedLine } from '@/app/_components/document/touched-line';
import { TouchedSince } from '@/app/_components/document/touched-since';
import { loadApprovedNotice } from '@/lib/server/publish/draft-content';
import { loadDebriefPage } from '@/lib/server/publish/load-debrief-page';
import { loadRegister } from '@/lib/server/queries/load-register';
import { loadComputedStamp } from '@/lib/server/queries/load-touched';
import { lastPublishedView } from '@/lib/view/debrief/published-view';
import { draftNotice } from '@/lib/view/debrief/touched-notice';
import { templateChoices } from '@/lib/view/plans/register-view';
import styles from './_components/debrief.module.css';
import { DebriefWorkspace } from './_components/debrief-workspace';
import { DraftStart } from './_components/draft-start';
import { PublishedNotice } from './_components/published-notice';

export const metadata: Metadata = { title: 'Debrief' };

/** Who has approved the draft as it stands: its hash may wait for what was known at an instant. */
async function ApprovedLine({ sessionId }: Readonly<{ sessionId: string }>) {
  const approved = await loadApprovedNotice(sessionId);
  return approved === null ? null : <p className="panel unsure">{approved}</p>;
}

type DebriefPageProps = Readonly<{
  params: Promise<{ sessionId: string }>;
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}>;

export default async function DebriefPage({ params, searchParams }: DebriefPageProps) {
  const { sessionId } = await params;
  const isRevising = (await searchParams).revise !== undefined;
  const { draft, live, menu, published, canDraft } = await loadDebriefPage(sessionId);
  const templates = draft === null ? templateChoices(await loadRegister('template')) : [];
  const last = published === null ? null : lastPublishedView(published, draft, sessionId);
  const stamp = await loadComputedStamp(sessionId);
  return (
    <div className={`page ${styles.page}`}>
      <div className="page-head">
        <h1>Debrief</h1>
        <p>Written from the reconstruction and the findings; publishing freezes every number.</p>
      </div>
      {last !== null && <PublishedNotice last={last} isRevising={isRevising} />}
      {published !== null && !isRevising ? (
        <TouchedSince number={published.number} revision={published.revision} />
      ) : (
        <TouchedLine notice={draftNotice(draft, stamp?.computedAtIso ?? null, sessionId)} />
      )}
      <Suspense fallback={null}>
        <ApprovedLine sessionId={sessionId} />
      </Suspense>
      {draft === null && (
        <DraftStart sessionId={sessionId} canDraft={canDraft} templates={templates} />
      )}
      {draft !== null && (last === null || isRevising) && (
        <DebriefWorkspace
          sessionId={sessionId}
          draft={draft}
          live={live}
          menu={menu}
          publishLabel={last?.nextLabel ?? 'Publish the debrief'}
          isRevision={last !== null}
        />
      )}
    </div>
  );
}
