import type { NavigationView } from '@/lib/view/navigation/navigation-view';
import { InShort } from '../../_components/in-short';
import { AccuracyTable } from './accuracy-table';
import { FeedPanel } from './feed-panel';
import { PairPanel } from './pair-panel';
import { PointsTable } from './points-table';
import { StepTable } from './step-table';
import { UnusedTable } from './unused-table';

type NavigationProps = Readonly<{ view: NavigationView | null }>;

/** Whether the navigation behind the approach can be trusted. */
export function Navigation({ view }: NavigationProps) {
  return (
    <div className="page">
      <div className="page-head">
        <h1>Navigation</h1>
        {view === null && (
          <p>
            No source of this session gives a range or a position, so there is no solution to look
            at.
          </p>
        )}
      </div>
      {view !== null && (
        <>
          <InShort sentences={view.answer} />
          <FeedPanel view={view} />
          <StepTable rows={view.steps} />
          <PairPanel pairs={view.pairs} />
          <AccuracyTable rows={view.accuracies} />
          <UnusedTable rows={view.unused} />
          <PointsTable rows={view.points} />
        </>
      )}
    </div>
  );
}
