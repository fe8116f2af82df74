/** Puts the hand-made reconstruction and its findings into a session. */
import { db } from '@/lib/server/db';
import { newId } from '@/lib/server/new-id';
import { sampleFindings } from './sample-findings';
import { sampleReconstruction } from './sample-reconstruction';

/** @param derivedFolder folder under the samples root; '' for a reconstruction without columns */
export async function addReconstruction(sessionId: string, derivedFolder = ''): Promise<void> {
  await db().reconstruction.create({
    data: {
      id: newId(),
      sessionId,
      inputsSha256: sampleReconstruction.inputsSha256,
      engine: sampleReconstruction.engine,
      body: JSON.stringify(sampleReconstruction),
      derivedFolder,
    },
    select: { id: true },
  });
  for (const finding of sampleFindings) {
    await db().finding.create({
      data: {
        id: finding.id,
        sessionId,
        number: finding.number,
        title: finding.title,
        seen: finding.seen,
        change: finding.change,
        kind: finding.kind,
        severity: finding.severity,
        state: finding.state,
        fromS: finding.anchor.fromS,
        toS: finding.anchor.toS,
        channels: JSON.stringify(finding.anchor.channels),
        figures: JSON.stringify(finding.figures),
        author: finding.author,
      },
      select: { id: true },
    });
  }
}
