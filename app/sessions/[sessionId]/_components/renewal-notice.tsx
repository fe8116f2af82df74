'use client';

import { useRouter } from 'next/navigation';
import { useEffect } from 'react';
import { isWatchedJob, readJson } from '@/lib/view/checked-answers';
import type { RenewalView } from '@/lib/view/renewal-view';
import styles from './renewal-notice.module.css';

type RenewalNoticeProps = Readonly<{ view: RenewalView }>;

/** Says that the reconstruction is an earlier one, and loads the page again once it is replaced. */
export function RenewalNotice({ view }: RenewalNoticeProps) {
  const router = useRouter();
  const { followedJobId } = view;

  useEffect(() => {
    if (followedJobId === null) return;
    const source = new EventSource(`/import/jobs/${encodeURIComponent(followedJobId)}/events`);
    let state: string | null = null;
    source.addEventListener('job', (event: MessageEvent<string>) => {
      const next = readJson(event.data, isWatchedJob)?.state ?? 'gone';
      const isOver = next !== 'waiting' && next !== 'running';
      // A short job may be over before the first word of it arrives.
      if (state === null ? isOver : next !== state) router.refresh();
      state = next;
      if (isOver) source.close();
    });
    return () => source.close();
  }, [followedJobId, router]);

  return (
    <p className={styles.notice} role="status">
      {view.text}
    </p>
  );
}
