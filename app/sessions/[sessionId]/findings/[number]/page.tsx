import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { loadFinding } from '@/lib/server/queries/load-finding';
import { startEditing } from '@/lib/view/finding-edit';
import { findingView } from '@/lib/view/findings-view';
import { FindingForm } from './_components/finding-form';
import { FindingSheet } from './_components/finding-sheet';

type FindingPageProps = Readonly<{
  params: Promise<{ sessionId: string; number: string }>;
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}>;

export async function generateMetadata({ params }: FindingPageProps): Promise<Metadata> {
  const { sessionId, number } = await params;
  const finding = await loadFinding(sessionId, number);
  return finding === null ? {} : { title: `Finding ${finding.number}` };
}

export default async function FindingPage({ params, searchParams }: FindingPageProps) {
  const { sessionId, number } = await params;
  const finding = await loadFinding(sessionId, number);
  if (finding === null) notFound();
  const isEditing = (await searchParams).edit !== undefined;
  const view = findingView(finding, sessionId);
  return (
    <div className="page">
      {isEditing ? (
        <FindingForm
          place={{ sessionId, number: finding.number }}
          start={startEditing(finding)}
          href={view.href}
        />
      ) : (
        <FindingSheet
          view={view}
          listHref={`/sessions/${encodeURIComponent(sessionId)}/findings`}
        />
      )}
    </div>
  );
}
