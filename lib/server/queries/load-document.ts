/** The draft of a session's debrief. */
import { cache } from 'react';
import { localActor } from '../actor';
import { db } from '../db';

export type DraftDocument = Readonly<{
  id: string;
  sessionId: string;
  version: number;
  title: string;
  /** Number of the document schema that `body` is written in. */
  schema: number;
  /** Editor JSON, checked by the debrief's own schema. */
  body: unknown;
  updatedBy: string;
  updatedAtIso: string;
}>;

export const loadDocument = cache(async (sessionId: string): Promise<DraftDocument | null> => {
  const row = await db().document.findFirst({
    where: { sessionId, session: { teamId: localActor().teamId } },
    select: {
      id: true,
      sessionId: true,
      version: true,
      title: true,
      schema: true,
      body: true,
      updatedBy: true,
      updatedAt: true,
    },
  });
  if (row === null) return null;
  const { body, updatedAt, ...rest } = row;
  return { ...rest, body: JSON.parse(body), updatedAtIso: updatedAt.toISOString() };
});
