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

/**
 * What a session is called as a run: by its title, counted where another has it. Runs are told apart by
 * their names, and what is said of them is found by a pattern.
 */
function runName(title: string, taken: readonly Readonly<{ name: string }>[]): string {
  const name = `session ${title.replace(/[*?]/g, '_')}`;
  const isTaken = (each: string): boolean => taken.some((other) => other.name === each);
  let count = 2;
  while (isTaken(`${name} (${count})`)) count += 1;
  return isTaken(name) ? `${name} (${count})` : name;
}

/** Those that stand and are still here, each once. */
async function standingRunSessions(sessionId: string): Promise<readonly StoredRunSession[]> {
  const { teamId } = localActor();
  const rows = await db().correction.findMany({
    where: { sessionId, kind: 'run-session', undoneAt: null, session: { teamId } },
    orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
    select: { body: true },
  });
  const asked = new Map(
    rows.map(({ body }) => parseJson(runSessionSchema, body)).map((each) => [each.run, each]),
  );
  const found: StoredRunSession[] = [];
  for (const { run, basis } of asked.values()) {
    const session = await db().session.findFirst({
      where: { id: run, teamId },
      select: { id: true, filesNumber: true, title: true, kind: true },
    });
    const source = session === null ? undefined : motionSource(await readStoredInput(session));
    if (session === null || source === undefined) continue;
    const is = session.kind === 'simulation' ? 'simulation' : 'flight';
    found.push({ name: runName(session.title, found), basis, is, source });
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
