import type { Metadata } from 'next';
import { loadHandlingRatings, loadHandlingTasks } from '@/lib/server/queries/load-corrections';
import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { handlingWords, LOAD_FORM, SCALE_FORMS, TASK_QUANTITIES } from '@/lib/view/handling-forms';
import { handlingView } from '@/lib/view/handling-view';
import { NotReconstructed } from '../_components/not-reconstructed';
import { CorrectionList } from '../sources/_components/correction-list';
import { AxisTable } from './_components/axis-table';
import { MeasureTable } from './_components/measure-table';
import { TaskForm } from './_components/task-form';
import { TaskPanel } from './_components/task-panel';

export const metadata: Metadata = { title: 'Handling' };

type HandlingPageProps = Readonly<{ params: Promise<{ sessionId: string }> }>;

export default async function HandlingPage({ params }: HandlingPageProps) {
  const { sessionId } = await params;
  const reconstruction = await loadReconstruction(sessionId);
  if (reconstruction === null) return <NotReconstructed title="Handling" sessionId={sessionId} />;
  const view = handlingView(reconstruction, sessionId);
  const [tasks, ratings] = await Promise.all([
    loadHandlingTasks(sessionId),
    loadHandlingRatings(sessionId),
  ]);
  return (
    <div className="page">
      <div className="page-head">
        <h1>Handling</h1>
        <p>
          Tasks flown by hand, measured against their bounds and rated; each axis beside the
          simulator.
        </p>
      </div>
      {view.tasks.length === 0 && (
        <section className="panel">
          <h2>No task yet</h2>
          <p className="soft">
            A rating belongs to a task: a stretch somebody flew by hand, with bounds for desired and
            adequate performance. Name the first one below.
          </p>
        </section>
      )}
      {view.tasks.map((task) => (
        <TaskPanel
          key={task.key}
          task={task}
          sessionId={sessionId}
          scales={SCALE_FORMS}
          load={LOAD_FORM}
        />
      ))}
      <AxisTable axes={view.axes} vehicle={view.vehicle} />
      <MeasureTable rows={view.measures} />
      <TaskForm sessionId={sessionId} quantities={TASK_QUANTITIES} offers={view.offers} />
      <CorrectionList
        title="Tasks and ratings"
        rows={handlingWords({ tasks, ratings })}
        sessionId={sessionId}
        empty="Nobody has named a task or given a rating here."
      />
    </div>
  );
}
