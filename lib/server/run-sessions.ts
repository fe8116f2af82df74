/** Other sessions that a session is held against, beside the runs of its own folder. */
import { z } from 'zod';
import { localActor } from './actor';
import { db } from './db';
import { readStoredInput } from './jobs/session-files';
import type { StoredInput, StoredRunSession, StoredTelemetry } from './jobs/stored-input';
import { parseJson } from './rows';

/** A session by its id, and what it is as a run; `title` is what it was called then. */
export type RunSession = Readonly<{
  run: string;
  title: string;
  basis: 'prediction' | 'reconstruction';
  by: string | null;
  reason: string | null;
}>;

export const runSessionSchema: z.ZodType<RunSession> = z.object({
  run: z.string(),
  title: z.string(),
  basis: z.enum(['prediction', 'reconstruction']),
  by: z.string().nullable(),
  reason: z.string().nullable(),
});

/** The source that shows where the vehicle was: position before range. */
function motionSource({ sources }: StoredInput): StoredTelemetry | undefined {
  const has = (quantity: string) =>
    sources.find(
      (source): source is StoredTelemetry =>
        source.type === 'telemetry' && source.spec.channels.some(({ as }) => as === quantity),
    );
  return has('position.x') ?? has('range');
}

/** Those that stand and are still here, each once. */
export async function standingRunSessions(sessionId: string): Promise<readonly StoredRunSession[]> {
  const { teamId } = localActor();
  const rows = await db().correction.findMany({
    where: { sessionId, kind: 'run-session', undoneAt: null, session: { teamId } },
    orderBy: { createdAt: 'asc' },
    select: { body: true },
  });
  const asked = new Map(
    rows.map(({ body }) => parseJson(runSessionSchema, body)).map((each) => [each.run, each]),
  );
  const found: StoredRunSession[] = [];
  for (const { run, basis } of asked.values()) {
    const session = await db().session.findFirst({
      where: { id: run, teamId },
      select: { id: true, filesNumber: true, title: true },
    });
    const source = session === null ? undefined : motionSource(await readStoredInput(session));
    if (session === null || source === undefined) continue;
    found.push({ name: `session ${session.title}`, basis, source });
  }
  return found;
}

/** The input with the other sessions that it is held against. */
export async function withSessionsAsRuns(
  stored: StoredInput,
  sessionId: string,
): Promise<StoredInput> {
  const runSessions = await standingRunSessions(sessionId);
  return runSessions.length === 0 ? stored : { ...stored, runSessions };
}
