'use client';

import Link from 'next/link';
import { useRouter } from 'next/navigation';
import { useEffect, useState } from 'react';
import { IssueTable } from '@/app/_components/tables/issue-table';
import { isWatchedJob, readJson } from '@/lib/view/checked-answers';
import { importView, type WatchedJob } from '@/lib/view/import-view';
import { cancelJobAction } from '../../actions';
import styles from './job-watch.module.css';

type JobWatchProps = Readonly<{ job: WatchedJob }>;

/** How the line to the server stands; it comes back by itself. */
type Line = 'open' | 'lost' | 'gone';

/** Follows one import to its end; its address finds it again after a reload. */
export function JobWatch({ job: first }: JobWatchProps) {
  const router = useRouter();
  const [job, setJob] = useState(first);
  const [line, setLine] = useState<Line>('open');
  const [problem, setProblem] = useState<string | null>(null);
  const view = importView(job);
  const { isOpen, sessionHref } = view;
  const isNew = sessionHref !== null && job.result?.wasThere !== true;
  const isClean = isNew && view.issues.length === 0;
  const wasOpen = first.state === 'waiting' || first.state === 'running';

  useEffect(() => {
    if (!isOpen) return;
    const source = new EventSource(`/import/jobs/${encodeURIComponent(first.id)}/events`);
    source.addEventListener('job', (event: MessageEvent<string>) => {
      const next = readJson(event.data, isWatchedJob);
      setLine(next === null ? 'gone' : 'open');
      if (next !== null) setJob(next);
    });
    source.onerror = () => setLine(source.readyState === EventSource.CLOSED ? 'gone' : 'lost');
    return () => source.close();
  }, [first.id, isOpen]);

  const { describeHref } = view;
  useEffect(() => {
    if (describeHref !== null && wasOpen && job.state === 'done') router.replace(describeHref);
  }, [describeHref, wasOpen, job.state, router]);

  useEffect(() => {
    // Nothing to read here: on to the session. A finished import that is looked up again stays.
    if (isClean && wasOpen) router.replace(sessionHref);
  }, [isClean, wasOpen, router, sessionHref]);

  async function cancel(): Promise<void> {
    const result = await cancelJobAction(first.id);
    setProblem(result.ok ? null : result.message);
  }

  return (
    <section className="panel stack">
      <h1>{view.title}</h1>
      {isOpen && (
        <div className="stack" role="status">
          <p>
            {view.stage}{' '}
            <span className={styles.counts}>
              {[view.bytes, view.rows].filter((text) => text !== null).join(' · ')}
            </span>
          </p>
          {view.fraction === null ? (
            <progress className={styles.bar} aria-label="Going on" />
          ) : (
            <progress className={styles.bar} value={view.fraction} aria-label="Part done" />
          )}
        </div>
      )}
      {line === 'lost' && isOpen && (
        <p className="unsure">The server does not answer at the moment; trying again.</p>
      )}
      {line === 'gone' && isOpen && (
        <p className="beyond">This import is no longer known. Load the page again to look.</p>
      )}
      {view.outcome !== null && <p role="status">{view.outcome}</p>}
      {view.issues.length > 0 && <IssueTable rows={view.issues} />}
      <p className="beyond" role="alert">
        {problem}
      </p>
      <div className="row">
        {sessionHref !== null && (
          <Link className="button primary" href={sessionHref}>
            Open the session
          </Link>
        )}
        {describeHref !== null && (
          <Link className="button primary" href={describeHref}>
            Describe the files
          </Link>
        )}
        {view.canCancel && (
          <button className="button" type="button" onClick={cancel}>
            Cancel the import
          </button>
        )}
        {!isOpen && (
          <Link className="button" href="/import">
            Import another
          </Link>
        )}
      </div>
    </section>
  );
}
