import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { HomeHeader } from '@/app/_components/shell/home-header';
import { loadJob } from '@/lib/server/queries/load-job';
import { JobWatch } from './_components/job-watch';

export const metadata: Metadata = { title: 'Import' };

type JobPageProps = Readonly<{ params: Promise<{ jobId: string }> }>;

export default async function JobPage({ params }: JobPageProps) {
  const { jobId } = await params;
  const job = await loadJob(jobId);
  if (job === null) notFound();
  return (
    <>
      <HomeHeader />
      <main className="page" id="main" tabIndex={-1}>
        <JobWatch job={job} />
      </main>
    </>
  );
}
