import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { loadRevisionChanges, readCount } from '@/lib/server/publish/load-record';
import { RevisionChanges } from '../../../_components/revision-changes';

export const metadata: Metadata = { title: 'What changed' };

type ChangesPageProps = Readonly<{ params: Promise<{ number: string; revision: string }> }>;

/** What changed since the revision before. */
export default async function ChangesPage({ params }: ChangesPageProps) {
  const address = await params;
  const number = readCount(address.number);
  const revision = readCount(address.revision);
  if (number === null || revision === null || revision < 2) notFound();
  const changes = await loadRevisionChanges(number, revision);
  if (changes === null) notFound();
  return <RevisionChanges place={{ number, revision }} changes={changes} />;
}
