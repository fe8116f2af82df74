import Link from 'next/link';
import type { TrialView } from '@/lib/view/plans/trial-view';

type TrialListProps = Readonly<{
  trials: readonly TrialView[];
  versions: readonly Readonly<{ number: number; sha256: string }>[];
  /** How long previews are kept, and how many. */
  kept: Readonly<{ days: number; count: number }>;
}>;

/** What changes of this entry were found to do to sessions. */
export function TrialList({ trials, versions, kept }: TrialListProps) {
  if (trials.length === 0) return null;
  return (
    <section className="panel">
      <h2>What changes were found to do</h2>
      <table className="data">
        <thead>
          <tr>
            <th scope="col">tried</th>
            <th scope="col">which text</th>
            <th scope="col">what it does</th>
          </tr>
        </thead>
        <tbody>
          {trials.map(({ jobId, when, sha256, summary }) => {
            const version = versions.find((each) => each.sha256 === sha256);
            return (
              <tr key={jobId}>
                <th scope="row">
                  <Link href={`/plans/trials/${jobId}`} prefetch={false}>
                    {when}
                  </Link>
                </th>
                <td>{version === undefined ? 'a draft' : `version ${version.number}`}</td>
                <td className="words">{summary}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
      <p className="panel-note">
        A preview is kept for {kept.days} days, and the newest {kept.count} of all.
      </p>
    </section>
  );
}
