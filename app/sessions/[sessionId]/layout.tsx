import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import type { ReactNode } from 'react';
import { SiteHeader } from '@/app/_components/shell/site-header';
import { TabLinks } from '@/app/_components/shell/tab-links';
import { loadRenewal } from '@/lib/server/queries/load-renewal';
import { loadSessionHeader } from '@/lib/server/queries/load-session-header';
import { renewalView } from '@/lib/view/renewal-view';
import { sessionHeadView } from '@/lib/view/session-head-view';
import { PointsNotice } from './_components/points-notice';
import { RenewalNotice } from './_components/renewal-notice';
import { SessionTitle } from './_components/session-title';

type SessionLayoutProps = Readonly<{
  children: ReactNode;
  params: Promise<{ sessionId: string }>;
}>;

export async function generateMetadata({ params }: SessionLayoutProps): Promise<Metadata> {
  const header = await loadSessionHeader((await params).sessionId);
  return header === null ? {} : { title: header.title };
}

export default async function SessionLayout({ children, params }: SessionLayoutProps) {
  const { sessionId } = await params;
  const header = await loadSessionHeader(sessionId);
  if (header === null) notFound();
  const view = sessionHeadView(header);
  const renewal = renewalView(await loadRenewal(sessionId));
  return (
    <>
      <SiteHeader>
        <SessionTitle view={view} />
        <TabLinks label="This session" tabs={view.tabs} />
      </SiteHeader>
      <main id="main" tabIndex={-1}>
        {renewal !== null && <RenewalNotice view={renewal} />}
        <PointsNotice sessionId={sessionId} />
        {children}
      </main>
    </>
  );
}
