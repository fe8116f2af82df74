import Link from 'next/link';
import { HomeHeader } from '@/app/_components/shell/home-header';
import { TRIALS_KEPT } from '@/lib/server/trials/prune-trials';

/** An address of a preview that was removed with time, or never was. */
export default function TrialNotKept() {
  const { days, count } = TRIALS_KEPT;
  return (
    <>
      <HomeHeader />
      <main className="page" id="main" tabIndex={-1}>
        <div className="page-head">
          <h1>No preview is kept here any more</h1>
          <p>
            What a draft of a plan or rule set would do to sessions is kept for {days} days, and for
            the newest {count} previews; older ones are removed. No session, plan or rule set
            changed with it, and the editor makes the preview again. If it is newer than that, its
            address was not copied whole.
          </p>
        </div>
        <p>
          <Link href="/plans">Plans and rule sets</Link>
        </p>
      </main>
    </>
  );
}
