/** What is proposed for an upload without a session.yaml. */
import { cache } from 'react';
import {
  asBefore,
  columnsAsBefore,
  fitsAgain,
  type Remembered,
  timeAsBefore,
} from '@/lib/core/intake/proposal/remembered-source';
import { proposeSession, type SessionProposal } from '@/lib/core/intake/proposal/session-proposal';
import { localActor } from '../actor';
import { db } from '../db';
import { sourceSpecFromJson } from '../rows';
import { readUploadSketch, type UploadSketch } from '../uploads/upload-sketch';

export type UploadDescription = Readonly<{
  uploadId: string;
  sketch: UploadSketch;
  proposal: SessionProposal;
}>;

/** How many earlier sources are looked through for one with the same header. */
const MOST_REMEMBERED = 200;

/** Telemetry described before, the newest first. */
async function rememberedSources(): Promise<readonly Remembered[]> {
  const rows = await db().sourceVersion.findMany({
    where: { type: 'telemetry', session: { teamId: localActor().teamId, origin: 'import' } },
    orderBy: { createdAt: 'desc' },
    take: MOST_REMEMBERED,
    select: { declared: true, session: { select: { title: true, zeroTaiNs: true } } },
  });
  return rows.flatMap(({ declared, session }) => {
    const spec = sourceSpecFromJson(declared);
    return spec.type === 'telemetry'
      ? [{ spec, title: session.title, zero: { taiNs: session.zeroTaiNs } }]
      : [];
  });
}

function withRemembered(
  { sketch, proposal }: Pick<UploadDescription, 'sketch' | 'proposal'>,
  remembered: readonly Remembered[],
): SessionProposal {
  const reasons = [...proposal.reasons];
  const files = proposal.description.files.map((file, index) => {
    const header = sketch.files[index]?.table?.columns ?? [];
    const known = remembered.find((each) => fitsAgain(each, file, header));
    const own = reasons[index];
    if (known === undefined || own === undefined) return file;
    const said = `${own.said}, read as in "${known.title}", whose file had these columns`;
    const columns = columnsAsBefore(own.columns, known);
    reasons[index] = { ...own, said, time: timeAsBefore(known), columns };
    return asBefore(file, known);
  });
  return { description: { ...proposal.description, files }, reasons };
}

/** @returns null when there is no such upload, or nothing in it to describe */
export const loadDescription = cache(
  async (uploadId: string): Promise<UploadDescription | null> => {
    const sketch = await readUploadSketch(uploadId);
    if (sketch === null) return null;
    const proposal = proposeSession(sketch.files);
    const remembered = await rememberedSources();
    return { uploadId, sketch, proposal: withRemembered({ sketch, proposal }, remembered) };
  },
);
