/** One import and publication killed at a moment chosen by a seed, then mended, then done again. */
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { seededRandom } from '../support/seeded-random';
import type { FolderFiles } from './damage';
import { type Run, runWritePath } from './dying-run';

export type KilledOutcome = Readonly<{
  seed: number;
  said: string;
  ended: 'killed under way' | 'ended before';
  problems: readonly string[];
}>;

/** A folder that no other seed has: another title, another last digit in the first row. */
function folderOf(base: FolderFiles, seed: number): FolderFiles {
  const files = new Map(base);
  const session = base.get('session.yaml')?.toString() ?? '';
  files.set('session.yaml', Buffer.from(session.replace(/^title: .*$/m, `title: Kill ${seed}`)));
  const telemetry = base.get('telemetry.csv')?.toString() ?? '';
  files.set(
    'telemetry.csv',
    Buffer.from(telemetry.replace(/\n([^,]+),[^,]+,/, `\n$1,${300 + (seed % 1000) / 1e4},`)),
  );
  return files;
}

function runProblems(name: string, run: Run): string[] {
  const problems = run.looks.flatMap((look) =>
    look.problems.map((text) => `${name}, ${look.step}: ${text}`),
  );
  if (run.ended !== 'whole') problems.push(`${name}: the process ${run.ended}`);
  if (run.complaint !== '') problems.push(`${name}: ${run.complaint.slice(0, 600)}`);
  return problems;
}

/**
 * @param wholeMs how long a run takes that nobody kills; the moment lies within it
 */
export async function runKilledCase(
  base: FolderFiles,
  seed: number,
  { scratch, wholeMs }: Readonly<{ scratch: string; wholeMs: number }>,
): Promise<KilledOutcome> {
  const folder = path.join(scratch, 'folder');
  const dataDir = path.join(scratch, 'data');
  mkdirSync(folder, { recursive: true });
  for (const [name, bytes] of folderOf(base, seed)) writeFileSync(path.join(folder, name), bytes);
  const killAfterMs = Math.round(seededRandom(seed)() * wholeMs);
  const killed = await runWritePath({ dataDir, folder, killAfterMs });
  const mended = await runWritePath({ dataDir, folder: null });
  const again = await runWritePath({ dataDir, folder });
  const problems = [
    ...(killed.ended === 'failed' ? [`killed: ${killed.complaint.slice(0, 600)}`] : []),
    ...runProblems('mended', mended),
    ...runProblems('again', again),
  ];
  const last = again.looks.at(-1);
  const isPublished = last?.state === 'done' || last?.state === 'nothing-changed';
  if (last?.step !== 'published' || !isPublished || last.sessions !== 1 || last.publications !== 1)
    problems.push(`again: ended with ${JSON.stringify(last)}`);
  if (again.mended.length > 0) problems.push('again: something was left to mend after mending');
  rmSync(scratch, { recursive: true, force: true });
  return {
    seed,
    said: `killed after ${killAfterMs} ms, ${mended.mended.length} things mended`,
    ended: killed.ended === 'died' ? 'killed under way' : 'ended before',
    problems,
  };
}

/** How long one whole run takes here, ms. */
export async function measureWholeRun(base: FolderFiles, scratch: string): Promise<number> {
  const folder = path.join(scratch, 'folder');
  mkdirSync(folder, { recursive: true });
  for (const [name, bytes] of base) writeFileSync(path.join(folder, name), bytes);
  const run = await runWritePath({ dataDir: path.join(scratch, 'data'), folder });
  rmSync(scratch, { recursive: true, force: true });
  if (run.ended !== 'whole') throw new Error(`the whole run ${run.ended}: ${run.complaint}`);
  return run.ms;
}
