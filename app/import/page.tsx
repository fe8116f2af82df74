import type { Metadata } from 'next';
import { loadOpenJobs } from '@/lib/server/queries/load-job';
import { importView } from '@/lib/view/import-view';
import { OpenJobs } from '../_components/sessions/open-jobs';
import { HomeHeader } from '../_components/shell/home-header';
import { ImportDrop } from './_components/import-drop';
import { WhatIsRead } from './_components/what-is-read';

export const metadata: Metadata = { title: 'Import' };

export default async function ImportPage() {
  const jobs = await loadOpenJobs();
  return (
    <>
      <HomeHeader />
      <main className="page" id="main" tabIndex={-1}>
        <h1>Import</h1>
        <ImportDrop />
        <OpenJobs jobs={jobs.map((job) => ({ id: job.id, view: importView(job) }))} />
        <WhatIsRead />
      </main>
    </>
  );
}
