'use client';

import { useRouter } from 'next/navigation';
import { useEffect } from 'react';
import type { WatchedJob } from '@/lib/view/import-view';
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
      // The server writes this JSON from the very type.
      const job: WatchedJob | null = JSON.parse(event.data);
      const next = job?.state ?? 'gone';
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
