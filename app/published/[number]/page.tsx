import { notFound } from 'next/navigation';
import { newestRevisionOf, readCount } from '@/lib/server/publish/load-record';
import { PublishedDebrief } from '../_components/published-debrief';

type NewestPageProps = Readonly<{ params: Promise<{ number: string }> }>;

/** The newest revision of a debrief. */
export default async function NewestPage({ params }: NewestPageProps) {
  const number = readCount((await params).number);
  const revision = number === null ? null : await newestRevisionOf(number);
  if (number === null || revision === null) notFound();
  return <PublishedDebrief number={number} revision={revision} />;
}
