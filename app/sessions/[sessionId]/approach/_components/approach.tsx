import Link from 'next/link';
import { SentenceLine } from '@/app/_components/figure/sentence-line';
import type { ApproachView } from '@/lib/view/approach/approach-view';
import styles from './approach.module.css';
import { ApproachBoard } from './approach-board';
import { DeviationTable } from './deviation-table';
import { PlacesTable, RatesTable } from './station-tables';

type ApproachProps = Readonly<{ view: ApproachView; atS: number | null }>;

/** The approach in four pictures under one moment, the values behind them, and rate against plan. */
export function Approach({ view, atS }: ApproachProps) {
  return (
    <div className="page">
      <div className="page-head">
        <h1>Approach</h1>
        {view.clearance.length > 0 && (
          <p>
            <SentenceLine sentence={view.clearance} />
          </p>
        )}
        <nav className={styles.near} aria-label="How much is drawn">
          {view.near.map((choice) => (
            <Link
              key={choice.text}
              className={styles.choice}
              href={choice.nearM === null ? '?' : `?near=${choice.nearM}`}
              aria-current={choice.isChosen ? 'true' : undefined}
              prefetch={false}
              scroll={false}
            >
              {choice.text}
            </Link>
          ))}
        </nav>
      </div>
      <ApproachBoard
        key={`${atS}-${view.nearM}`}
        sessionId={view.sessionId}
        pictures={view.pictures}
        moment={view.moment}
        rings={view.rings}
        nearM={view.nearM}
        atS={atS}
      />
      {view.absent.map((text) => (
        <p key={text} className="soft">
          {text}
        </p>
      ))}
      <PlacesTable rows={view.stations} />
      <RatesTable rows={view.stations} lead={view.lead} />
      <DeviationTable groups={view.deviations} lead={view.lead} />
    </div>
  );
}
