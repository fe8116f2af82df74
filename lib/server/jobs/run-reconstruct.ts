/** Computes a session's reconstruction again, beside the one it has. */
import { z } from 'zod';
import { db } from '../db';
import { newId } from '../new-id';
import { parseJson } from '../rows';
import type { JobContext, JobOutcome } from './job-runner';
import { reconstructInWorker } from './reconstruct-in-worker';
import { readStoredInput } from './session-files';

export const reconstructInput = z.object({ sessionId: z.string() });

export async function runReconstruct(context: JobContext): Promise<JobOutcome> {
  const { sessionId } = parseJson(reconstructInput, context.input);
  context.report({
    stage: 'Reconstructing the approach',
    bytesDone: 0,
    bytesTotal: 0,
    rowsDone: 0,
  });
  const stored = await readStoredInput(sessionId);
  const { engine, inputsSha256, body, derivedFolder } = await reconstructInWorker(
    stored,
    context.signal,
  );
  const key = { sessionId, inputsSha256, engine };
  await db().reconstruction.upsert({
    where: { sessionId_inputsSha256_engine: key },
    create: { id: newId(), ...key, body, derivedFolder },
    update: {},
    select: { id: true },
  });
  return { state: 'done', result: { sessionId, wasThere: false, issues: [] } };
}
