import { FigureValue } from '@/app/_components/figure/figure-value';
import type { CaptureView } from '@/lib/view/capture-view';
import type { ContactView } from '@/lib/view/contact-view';
import type { EditOffer } from '@/lib/view/phase-edit-view';
import type { PointsView } from '@/lib/view/points-view';
import { EditButton } from '../../_components/edit-button';
import type { EditPlace } from '../../_components/edit-dialog';
import { EvidenceList } from '../../_components/evidence-list';
import styles from './contact.module.css';

type FirstTouchProps = Readonly<{
  contact: ContactView | null;
  capture: CaptureView | null;
  points: PointsView | null;
  /** What is said where there is no contact. */
  absent: string;
  /** Contact declared by hand: what its dialog starts from. */
  offer: EditOffer;
  place: EditPlace;
}>;

/** When the ports first touched, on which basis, and who told of it how much later. */
export function FirstTouch({ contact, capture, points, absent, offer, place }: FirstTouchProps) {
  const declare = <EditButton words="Declare contact" offer={offer} place={place} />;
  if (contact === null) {
    return (
      <section className="panel">
        <h2>First touch</h2>
        <p className="soft">{absent}</p>
        {declare}
      </section>
    );
  }
  const reports = capture?.reports ?? [];
  return (
    <section className="panel">
      <h2>First touch</h2>
      <dl className={styles.facts}>
        <div>
          <dt>{contact.called}</dt>
          <dd>
            <FigureValue figure={contact.time} />
            <span className={styles.note}>{contact.basis}</span>
            {declare}
          </dd>
        </div>
        {contact.computed !== null && (
          <div>
            <dt>computed</dt>
            <dd>
              <FigureValue figure={contact.computed} />
              <span className={styles.note}>what stood there before it was declared</span>
            </dd>
          </div>
        )}
        <div>
          <dt>reported</dt>
          <dd>{reports.length === 0 ? 'in no log' : <EvidenceList seen={reports} />}</dd>
        </div>
        {capture?.reportDelay != null && (
          <div>
            <dt>from touch to report</dt>
            <dd>
              <FigureValue figure={capture.reportDelay} />
            </dd>
          </div>
        )}
      </dl>
      {!contact.isMeasured && (
        <p className="panel-note">
          The motion does not show first touch here
          {points === null ? '' : `, for it is of ${points.label}`}, so the report stands for it,
          and its delay is not known.
        </p>
      )}
    </section>
  );
}
