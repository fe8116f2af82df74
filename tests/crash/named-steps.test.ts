import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { CRASH_POINTS, type CrashPointName } from '@/lib/server/crash-point';
import { folderOnDisk, smallSession } from '../support/small-session';
import { spokenLog } from '../support/spoken-log';
import { type Run, runWritePath, type WritePathStep } from './dying-run';

let scratch = '';
let folder = '';
beforeAll(() => {
  scratch = mkdtempSync(path.join(tmpdir(), 'wakeline-crash-'));
  folder = folderOnDisk(smallSession(spokenLog()));
});
afterAll(() => {
  rmSync(scratch, { recursive: true, force: true });
  rmSync(path.dirname(folder), { recursive: true, force: true });
});

/** Here nothing had been written, or all had ended, or a person is asked again: nothing to mend. */
const NOTHING_LEFT: readonly CrashPointName[] = [
  'publish:rendered',
  'publish:committed',
  'describe:file-synced',
  'describe:renamed',
  'describe:committed',
];

function stepOf(point: CrashPointName | undefined): WritePathStep {
  const alone = (['replace', 'describe', 'publish'] as const).find((step) =>
    (point ?? 'publish:').startsWith(`${step}:`),
  );
  return alone ?? 'import and publish';
}

/** After a rename and after a commit; of an import, a publication, a replaced file and described files. */
const EVERY_DAY: readonly CrashPointName[] = [
  'samples:renamed',
  'import:committed',
  'publish:renamed',
  'replace:committed',
  'describe:committed',
];

/** The soak sets this: then the process dies at every named point. */
const isSoak = process.env.WAKELINE_CRASH_POINTS === 'all';
const POINTS: readonly CrashPointName[] = isSoak ? CRASH_POINTS : EVERY_DAY;
const ALONE: readonly CrashPointName[] = isSoak
  ? ['samples:data-written', 'samples:renamed']
  : ['samples:data-written'];

const runs = new Map<number, Promise<Run>>();

/** The run that is to die at one point; its start has mended what the run before left. */
function runTo(index: number): Promise<Run> {
  const known = runs.get(index);
  if (known !== undefined) return known;
  const point = POINTS[index];
  const started = (index === 0 ? Promise.resolve() : runTo(index - 1)).then(() =>
    runWritePath({
      dataDir: path.join(scratch, 'all'),
      folder,
      step: stepOf(point),
      ...(point === undefined ? {} : { crashAt: point }),
    }),
  );
  runs.set(index, started);
  return started;
}

/** One data folder goes through all of them: each crash meets what the ones before left mended. */
describe('killed with all its processes', () => {
  test.each(POINTS.map((point, index) => [point, index] as const))(
    'at %s, it starts again, says what it mended, shows nothing half',
    async (point, index) => {
      expect(await runTo(index)).toMatchObject({ ended: 'died', complaint: '' });
      const again = await runTo(index + 1);
      expect(again.complaint).toBe('');
      expect(again.looks[0]).toMatchObject({ step: 'started', problems: [] });
      if (NOTHING_LEFT.includes(point)) expect(again.mended).toEqual([]);
      else expect(again.mended).not.toEqual([]);
    },
  );

  test('at all of them in turn, sessions and publication are then found whole', async () => {
    const run = await runTo(POINTS.length);
    const whole = { problems: [], sessions: 2 };
    // One that died after its commit was published.
    const before = POINTS.includes('publish:committed') ? 1 : 0;
    expect(run.ended).toBe('whole');
    expect(run.looks).toMatchObject([
      { step: 'started', ...whole, sessions: 1, publications: before },
      { step: 'finished', state: 'done', ...whole, publications: before },
      { step: 'published', state: 'done', ...whole, publications: before + 1 },
    ]);
  });
});

describe('when only the reading process dies', () => {
  test.each(ALONE)('at %s, the job says so and nothing of it is kept', async (point) => {
    const dataDir = path.join(scratch, `alone-${point.replace(':', '-')}`);
    const run = await runWritePath({ dataDir, folder, crashAt: point, dies: 'one process' });
    const end = { step: 'imported', state: 'failed', sessions: 0, problems: [] };
    expect(run.looks.at(-1)).toMatchObject(end);
    expect(run.looks.at(-1)?.issues?.length).toBe(1);
  });
});
