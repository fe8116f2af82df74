import Link from 'next/link';
import type { ImportView } from '@/lib/view/import-view';

type OpenJobsProps = Readonly<{ jobs: readonly Readonly<{ id: string; view: ImportView }>[] }>;

/** Work that is still going on, so that nobody has to remember its address. */
export function OpenJobs({ jobs }: OpenJobsProps) {
  if (jobs.length === 0) return null;
  return (
    <section className="panel" aria-label="Going on now">
      <ul className="plain stack">
        {jobs.map(({ id, view }) => (
          <li key={id} className="row">
            <Link href={`/import/${id}`}>{view.title}</Link>
            {view.fraction !== null && (
              <progress value={view.fraction} aria-label={`${view.title}, part done`} />
            )}
            <span className="soft">{view.stage}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}
