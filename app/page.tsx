import { loadOpenJobs } from '@/lib/server/queries/load-job';
import { loadSessions } from '@/lib/server/queries/load-sessions';
import { importView } from '@/lib/view/import-view';
import { sessionsView } from '@/lib/view/sessions-view';
import { OpenJobs } from './_components/sessions/open-jobs';
import { Purpose } from './_components/sessions/purpose';
import { SessionTable } from './_components/sessions/session-table';
import { HomeHeader } from './_components/shell/home-header';
import { ImportDrop } from './import/_components/import-drop';

export default async function SessionsPage() {
  const [sessions, jobs] = await Promise.all([loadSessions(), loadOpenJobs()]);
  return (
    <>
      <HomeHeader />
      <main className="page" id="main" tabIndex={-1}>
        <Purpose />
        <ImportDrop />
        <OpenJobs jobs={jobs.map((job) => ({ id: job.id, view: importView(job) }))} />
        <SessionTable rows={sessionsView(sessions)} />
      </main>
    </>
  );
}
