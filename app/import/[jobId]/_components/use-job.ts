'use client';

import { useEffect, useState } from 'react';
import { isWatchedJob, readJson } from '@/lib/view/checked-answers';
import type { WatchedJob } from '@/lib/view/import-view';

/** How the line to the server stands; it comes back by itself. */
type Line = 'open' | 'lost' | 'gone';

/** A job as it stands now, followed until it has ended. */
export function useJob(first: WatchedJob): Readonly<{ job: WatchedJob; line: Line }> {
  const [job, setJob] = useState(first);
  const [line, setLine] = useState<Line>('open');
  const isOpen = job.state === 'waiting' || job.state === 'running';

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

  return { job, line };
}
