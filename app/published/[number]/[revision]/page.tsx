import { notFound } from 'next/navigation';
import { readCount } from '@/lib/server/publish/load-record';
import { PublishedDebrief } from '../../_components/published-debrief';

type RevisionPageProps = Readonly<{ params: Promise<{ number: string; revision: string }> }>;

/** One revision of a debrief, as it was published. */
export default async function RevisionPage({ params }: RevisionPageProps) {
  const address = await params;
  const number = readCount(address.number);
  const revision = readCount(address.revision);
  if (number === null || revision === null) notFound();
  return <PublishedDebrief number={number} revision={revision} />;
}
