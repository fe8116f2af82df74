import { notFound } from 'next/navigation';
import { leadingRevisionOf, readCount } from '@/lib/server/publish/load-record';
import { PublishedDebrief } from '../_components/published-debrief';

type NewestPageProps = Readonly<{ params: Promise<{ number: string }> }>;

/** The revision of a debrief that stands. */
export default async function NewestPage({ params }: NewestPageProps) {
  const number = readCount((await params).number);
  const revision = number === null ? null : await leadingRevisionOf(number);
  if (number === null || revision === null) notFound();
  return <PublishedDebrief number={number} revision={revision} />;
}
