import type { Metadata } from 'next';
import { loadOpenJobs } from '@/lib/server/queries/load-job';
import { loadOpenDescriptions } from '@/lib/server/queries/load-open-descriptions';
import { openDescriptionRows } from '@/lib/view/describe-view';
import { importView } from '@/lib/view/import-view';
import { OpenJobs } from '../_components/sessions/open-jobs';
import { HomeHeader } from '../_components/shell/home-header';
import { ImportDrop } from './_components/import-drop';
import { OpenDescriptions } from './_components/open-descriptions';
import { WhatIsRead } from './_components/what-is-read';

export const metadata: Metadata = { title: 'Import' };

export default async function ImportPage() {
  const [jobs, waiting] = await Promise.all([loadOpenJobs(), loadOpenDescriptions()]);
  return (
    <>
      <HomeHeader />
      <main className="page" id="main" tabIndex={-1}>
        <h1>Import</h1>
        <ImportDrop />
        <OpenJobs jobs={jobs.map((job) => ({ id: job.id, view: importView(job) }))} />
        <OpenDescriptions rows={openDescriptionRows(waiting)} />
        <WhatIsRead />
      </main>
    </>
  );
}
