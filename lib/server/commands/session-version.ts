/** The version check of commands that change a session as a whole. */
import type { VersionCheck } from './define-command';

type OfSession = Readonly<{ sessionId: string; version: number }>;

/** Refuses where somebody changed the session since it was seen. */
export const sessionVersion: VersionCheck<OfSession> = {
  expected: ({ version }) => version,
  load: async ({ tx, actor }, { sessionId }) => {
    const where = { id: sessionId, teamId: actor.teamId };
    const row = await tx.session.findFirst({ where, select: { version: true, title: true } });
    return row === null ? null : { version: row.version, value: { title: row.title } };
  },
};
