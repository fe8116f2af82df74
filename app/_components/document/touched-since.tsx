import { Suspense } from 'react';
import { loadTouchedSince } from '@/lib/server/queries/load-touched';
import { publishedNotice } from '@/lib/view/debrief/touched-notice';
import { TouchedLine } from './touched-line';

type TouchedSinceProps = Readonly<{ number: number; revision: number }>;

async function Notice({ number, revision }: TouchedSinceProps) {
  return <TouchedLine notice={publishedNotice(await loadTouchedSince(number, revision))} />;
}

/** Whether numbers of a revision read otherwise now; the page does not wait for it. */
export function TouchedSince(place: TouchedSinceProps) {
  return (
    <Suspense fallback={null}>
      <Notice {...place} />
    </Suspense>
  );
}
