import Link from 'next/link';
import { FigureValue } from '@/app/_components/figure/figure-value';
import type { RatingScale } from '@/lib/core/handling/decision-tree';
import type { LoadForm } from '@/lib/view/handling-forms';
import type { TaskCard } from '@/lib/view/task-card';
import { FindingNote } from '../../_components/finding-note';
import { ActivityTable } from './activity-table';
import styles from './handling.module.css';
import { TaskLoadForm } from './load-form';
import { RatingForm } from './rating-form';
import { RatingTable } from './rating-table';

type TaskPanelProps = Readonly<{
  task: TaskCard;
  sessionId: string;
  scales: readonly RatingScale[];
  load: LoadForm;
}>;

/** One task: what was asked, what was measured, what was said, and the ratings. */
export function TaskPanel({ task, sessionId, scales, load }: TaskPanelProps) {
  return (
    <section className="panel stack">
      <h2>
        {task.name} <span className={styles.about}>{task.about}</span>
      </h2>
      <p>
        <Link href={task.stretch.href} prefetch={false}>
          {task.stretch.text}
        </Link>
        . {task.bounds}; {task.inLoop}.{' '}
        {task.met !== null && <span className={task.met.tone}>Measured: {task.met.text}.</span>}
      </p>
      {task.note !== null && <p className="beyond">{task.note}</p>}
      {task.fault !== null && <p className="beyond">Not measured: {task.fault}.</p>}
      {task.measures.length > 0 && (
        <dl className={styles.measures}>
          {task.measures.map(({ label, figure, simulator }) => (
            <div key={label}>
              <dt>{label}</dt>
              <dd>
                <FigureValue figure={figure} />
              </dd>
              {simulator !== null && (
                <dd className={styles.simulated}>
                  simulator <FigureValue figure={simulator} />
                </dd>
              )}
            </div>
          ))}
        </dl>
      )}
      {task.simulated !== null && <p className="panel-note">{task.simulated}</p>}
      <ActivityTable rows={task.activity} />
      <RatingTable task={task} />
      {task.said.length > 0 && (
        <details>
          <summary>Said meanwhile: {task.said.length}</summary>
          <ul className={styles.said}>
            {task.said.map(({ key, at, href, text }) => (
              <li key={key}>
                <Link className="num" href={href} prefetch={false}>
                  {at}
                </Link>{' '}
                {text}
              </li>
            ))}
          </ul>
        </details>
      )}
      <FindingNote place={task.finding} about={task.name} />
      {task.canRate && (
        <>
          <RatingForm sessionId={sessionId} task={task.name} scales={scales} />
          <TaskLoadForm sessionId={sessionId} task={task.name} form={load} />
        </>
      )}
    </section>
  );
}
