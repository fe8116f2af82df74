import type { Metadata } from 'next';
import { TouchedLine } from '@/app/_components/document/touched-line';
import { loadDebriefPage } from '@/lib/server/publish/load-debrief-page';
import { loadRegister } from '@/lib/server/queries/load-register';
import { loadComputedStamp, loadTouchedSince } from '@/lib/server/queries/load-touched';
import { lastPublishedView } from '@/lib/view/debrief/published-view';
import { draftNotice, publishedNotice } from '@/lib/view/debrief/touched-notice';
import { templateChoices } from '@/lib/view/plans/register-view';
import styles from './_components/debrief.module.css';
import { DebriefWorkspace } from './_components/debrief-workspace';
import { DraftStart } from './_components/draft-start';
import { PublishedNotice } from './_components/published-notice';

export const metadata: Metadata = { title: 'Debrief' };

type DebriefPageProps = Readonly<{
  params: Promise<{ sessionId: string }>;
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}>;

export default async function DebriefPage({ params, searchParams }: DebriefPageProps) {
  const { sessionId } = await params;
  const isRevising = (await searchParams).revise !== undefined;
  const { draft, live, menu, published, approved, canDraft } = await loadDebriefPage(sessionId);
  const templates = draft === null ? templateChoices(await loadRegister('template')) : [];
  const last = published === null ? null : lastPublishedView(published, draft, sessionId);
  const touched =
    published !== null && !isRevising
      ? publishedNotice(await loadTouchedSince(published.number, published.revision))
      : draftNotice(draft, (await loadComputedStamp(sessionId))?.computedAtIso ?? null, sessionId);
  return (
    <div className={`page ${styles.page}`}>
      <div className="page-head">
        <h1>Debrief</h1>
        <p>Written from the reconstruction and the findings; publishing freezes every number.</p>
      </div>
      {last !== null && <PublishedNotice last={last} isRevising={isRevising} />}
      <TouchedLine notice={touched} />
      {approved !== null && <p className="panel unsure">{approved}</p>}
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
