/** Loads the invented demo: makes its folder, imports it, adds what its reviewers found and wrote. */
import { execFile } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { promisify } from 'node:util';
import { z } from 'zod';
import { createFinding } from '../commands/create-finding';
import { newId } from '../new-id';
import { loadStretch } from '../queries/load-stretch';
import { runCommand } from '../run-command';
import { uploadFolder } from '../uploads/receive-file';
import { builtEntry } from './built';
import { demoDebriefSchema, publishDemoDebrief } from './demo-debrief';
import type { JobContext, JobOutcome } from './job-runner';
import { removeDemoRows } from './remove-demo-rows';
import { importUpload } from './run-import';

const peopleSchema = z.object({
  findings: z.array(z.looseObject({ fromS: z.number(), toS: z.number() })),
  debrief: demoDebriefSchema,
});

export async function runDemo(context: JobContext): Promise<JobOutcome> {
  await removeDemoRows(); // what an attempt that was killed may have left
  try {
    return await loadDemo(context);
  } catch (error) {
    await removeDemoRows();
    throw error;
  }
}

/** The flight before first, so that its debrief has the number before. */
async function loadDemo(context: JobContext): Promise<JobOutcome> {
  await loadFlight(context, ['--before']);
  return loadFlight(context, []);
}

/** @param which arguments of `make-demo` that say which flight; the last one loaded is the job's session */
async function loadFlight(context: JobContext, which: readonly string[]): Promise<JobOutcome> {
  const uploadId = newId();
  const files = path.join(uploadFolder(uploadId), 'files');
  const peopleFile = path.join(uploadFolder(uploadId), 'people.json');
  const stage = { bytesDone: 0, bytesTotal: 0, rowsDone: 0 };
  context.report({ ...stage, stage: 'Flying the invented demo' });
  const args = [builtEntry('make-demo'), files, peopleFile, ...which];
  await promisify(execFile)(process.execPath, args, { signal: context.signal });
  const people = peopleSchema.parse(JSON.parse(await readFile(peopleFile, 'utf8')));
  const outcome = await importUpload(context, {
    uploadId,
    origin: 'demo',
    finish: async (tx, { result }) => {
      const data = { sessionId: result.sessionId };
      await tx.job.update({ where: { id: context.jobId }, data, select: { id: true } });
    },
  });
  const { sessionId, wasThere } = outcome.result;
  if (sessionId === null || wasThere) return outcome;
  for (const finding of people.findings) {
    const stretch = await loadStretch(sessionId, finding);
    const figures = stretch?.figures ?? [];
    const made = await runCommand(createFinding, { sessionId, ...finding, figures });
    if (!made.ok) throw new Error(`the demo's finding was refused: ${made.message}`);
  }
  context.signal.throwIfAborted();
  context.report({ ...stage, stage: 'Writing the demo’s debrief' });
  await publishDemoDebrief(sessionId, people.debrief);
  context.signal.throwIfAborted();
  return outcome;
}
