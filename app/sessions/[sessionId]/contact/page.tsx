import type { Metadata } from 'next';
import { loadPhaseEdits } from '@/lib/server/queries/load-corrections';
import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { captureView } from '@/lib/view/capture-view';
import { contactAnswer } from '@/lib/view/contact-answer';
import { contactView, noContactText } from '@/lib/view/contact-view';
import { contactOffer, editsVersion, phaseEditRows } from '@/lib/view/phase-edit-view';
import { pointsView } from '@/lib/view/points-view';
import { InShort } from '../_components/in-short';
import { NotReconstructed } from '../_components/not-reconstructed';
import { CorrectionList } from '../sources/_components/correction-list';
import { CaptureTable } from './_components/capture-table';
import { ConditionTable } from './_components/condition-table';
import { FirstTouch } from './_components/first-touch';

export const metadata: Metadata = { title: 'Contact and capture' };

type ContactPageProps = Readonly<{ params: Promise<{ sessionId: string }> }>;

export default async function ContactPage({ params }: ContactPageProps) {
  const { sessionId } = await params;
  const reconstruction = await loadReconstruction(sessionId);
  if (reconstruction === null) {
    return <NotReconstructed title="Contact and capture" sessionId={sessionId} />;
  }
  const contact = contactView(reconstruction, sessionId);
  const capture = captureView(reconstruction, sessionId);
  const kept = await loadPhaseEdits(sessionId);
  const place = { sessionId, version: editsVersion(kept), steps: [] };
  return (
    <div className="page">
      <div className="page-head">
        <h1>Contact and capture</h1>
        <p>First touch as the motion shows it, the report of it, and what followed.</p>
      </div>
      <InShort sentences={contactAnswer(reconstruction, contact, capture)} />
      <FirstTouch
        contact={contact}
        capture={capture}
        points={pointsView(reconstruction)}
        absent={noContactText(reconstruction)}
        offer={contactOffer(reconstruction)}
        place={place}
      />
      <ConditionTable view={contact} />
      <CaptureTable view={capture} sequenceHref={`/sessions/${sessionId}/phases#sequence`} />
      <CorrectionList
        title="Contact as declared"
        rows={phaseEditRows(reconstruction, kept, 'contact')}
        sessionId={sessionId}
        empty={`Nobody has declared contact${contact === null ? '' : ': it stands as it was found'}.`}
      />
    </div>
  );
}
