'use client';

import { useRouter } from 'next/navigation';
import { useEffect } from 'react';
import { IssueTable } from '@/app/_components/tables/issue-table';
import { importView, type WatchedJob } from '@/lib/view/import-view';
import styles from './job-watch.module.css';
import { JobWays } from './job-ways';
import { useJob } from './use-job';

type JobWatchProps = Readonly<{ job: WatchedJob }>;

/** Follows one import to its end; its address finds it again after a reload. */
export function JobWatch({ job: first }: JobWatchProps) {
  const router = useRouter();
  const { job, line } = useJob(first);
  const view = importView(job);
  const { isOpen, session, describeHref } = view;
  const isNew = job.state === 'done' && job.result?.wasThere !== true;
  // Nothing to read here: on to the session. A finished import that is looked up again stays.
  const onwards = describeHref ?? (isNew && view.issues.length === 0 ? session?.href : null);
  const wasOpen = first.state === 'waiting' || first.state === 'running';

  useEffect(() => {
    if (wasOpen && job.state === 'done' && onwards != null) router.replace(onwards);
  }, [wasOpen, job.state, onwards, router]);

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
      <JobWays jobId={first.id} view={view} />
    </section>
  );
}
