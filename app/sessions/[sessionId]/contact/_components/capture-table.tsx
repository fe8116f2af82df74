import Link from 'next/link';
import { FigureValue } from '@/app/_components/figure/figure-value';
import { StageBar } from '@/app/_components/marks/stage-bar';
import type { CaptureView, StageRow } from '@/lib/view/capture-view';
import { EvidenceList } from '../../_components/evidence-list';
import styles from './contact.module.css';

type CaptureTableProps = Readonly<{ view: CaptureView | null; sequenceHref: string }>;

/** Soft capture, damping, ring and latches: planned, flown, and what shows each. */
export function CaptureTable({ view, sequenceHref }: CaptureTableProps) {
  return (
    <section className="panel">
      <h2>Capture</h2>
      {view === null ? (
        <p className="soft">Nothing in this session tells of contact or capture.</p>
      ) : (
        <>
          <div className={styles.scroll}>
            <table className="data">
              <thead>
                <tr>
                  <th scope="col">stage</th>
                  <th scope="col" className={styles.drawing}>
                    {view.scale === '' ? '' : `first touch to ${view.scale}`}
                  </th>
                  <th scope="col" className="right">
                    planned
                  </th>
                  <th scope="col" className="right">
                    flown
                  </th>
                  <th scope="col" className="right">
                    difference
                  </th>
                  <th scope="col">standing</th>
                  <th scope="col" className={styles.evidence}>
                    shown by
                  </th>
                </tr>
              </thead>
              <tbody>
                {view.stages.map((stage) => (
                  <StageLine key={stage.key} stage={stage} />
                ))}
              </tbody>
            </table>
          </div>
          <CaptureNotes view={view} />
        </>
      )}
      <p className="panel-note no-print">
        <Link href={sequenceHref}>Sequence as flown</Link>, the whole session in one table
      </p>
    </section>
  );
}

function StageLine({ stage }: Readonly<{ stage: StageRow }>) {
  return (
    <>
      <tr>
        <th scope="row" rowSpan={stage.outOfOrder === null ? 1 : 2}>
          {stage.name}
        </th>
        <td>
          <StageBar mark={stage.mark} tone={stage.tone} />
        </td>
        <td className="right">
          {stage.planned !== null && <FigureValue figure={stage.planned} />}
          {stage.tolerance !== null && <span className="num"> {stage.tolerance}</span>}
        </td>
        <td className="right">{stage.flown !== null && <FigureValue figure={stage.flown} />}</td>
        <td className="right">
          {stage.difference !== null && <FigureValue figure={stage.difference} />}
        </td>
        <td className={`${stage.tone} ${styles.nowrap}`}>{stage.standing}</td>
        <td>
          <EvidenceList seen={stage.seen} />
        </td>
      </tr>
      {stage.outOfOrder !== null && (
        <tr className={styles.more}>
          <td className="beyond" colSpan={6}>
            Out of order: {stage.outOfOrder}
          </td>
        </tr>
      )}
    </>
  );
}

function CaptureNotes({ view }: Readonly<{ view: CaptureView }>) {
  const { settling, retraction, latches } = view;
  return (
    <ul className={`plain panel-note ${styles.notes}`}>
      <li>
        Damping counts from where the relative motion stays under {settling.limit}
        {settling.peak !== null && (
          <>
            ; its largest speed after first touch is <FigureValue figure={settling.peak} />
          </>
        )}
        . {settling.reason}
      </li>
      {retraction?.duration != null && (
        <li>
          The ring draws in
          {retraction.drawnIn !== null && (
            <>
              {' '}
              by <FigureValue figure={retraction.drawnIn} />
            </>
          )}{' '}
          over <FigureValue figure={retraction.duration} />, read from the axial distance.
        </li>
      )}
      <li>
        Latches to close: {latches.planned}.{' '}
        {latches.closed === null ? (
          <span className="unsure">How many closed is not known. {latches.reason}</span>
        ) : (
          <span className={latches.tone}>
            Closed: <FigureValue figure={latches.closed} />
          </span>
        )}
      </li>
    </ul>
  );
}
