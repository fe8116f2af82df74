'use client';

import { useEffect, useRef, useState } from 'react';
import { useJob } from '@/app/import/[jobId]/_components/use-job';
import { cancelJobAction } from '@/app/import/actions';
import type { TrialView } from '@/lib/view/plans/trial-view';
import { readTrialAction } from '../actions';

type TrialWatchProps = Readonly<{
  jobId: string;
  count: number;
  /** What it came to; else why there is nothing. */
  onEnd: (view: TrialView | null, problem: string | null) => void;
}>;

const ENDS: Readonly<Record<string, string>> = {
  cancelled: 'The preview was stopped; nothing was changed.',
  failed: 'The preview could not be computed; nothing was changed.',
};

/** Follows a preview to its end, with the way to stop it. */
export function TrialWatch({ jobId, count, onEnd }: TrialWatchProps) {
  const { job, line } = useJob({
    id: jobId,
    kind: 'trial',
    state: 'waiting',
    stage: 'Waiting for its turn',
    bytesDone: 0,
    bytesTotal: count,
    rowsDone: 0,
    sessionId: null,
    cancelRequested: false,
    result: null,
  });
  const [isStopping, setStopping] = useState(false);
  const { state } = job;
  const words = job.result?.issues[0]?.message ?? ENDS[state] ?? '';
  const end = useRef(onEnd);
  useEffect(() => {
    end.current = onEnd;
  });

  useEffect(() => {
    if (state === 'waiting' || state === 'running') return;
    if (state !== 'done') {
      end.current(null, words);
      return;
    }
    readTrialAction(jobId).then(
      (view) => end.current(view, view === null ? (ENDS.failed ?? '') : null),
      () => end.current(null, 'The server does not answer at the moment; preview again.'),
    );
  }, [state, jobId, words]);

  async function stop(): Promise<void> {
    setStopping(true);
    const asked = await cancelJobAction(jobId).catch(() => null);
    if (asked?.ok !== true) setStopping(false);
  }

  return (
    <div className="row" role="status">
      <progress aria-label="Part done" {...(count > 1 ? { value: job.bytesDone / count } : {})} />
      <span>{isStopping ? 'Stopping' : job.stage}</span>
      {line === 'lost' && <span className="unsure">The server does not answer; trying again.</span>}
      <button type="button" className="button" disabled={isStopping} onClick={stop}>
        Stop
      </button>
    </div>
  );
}
