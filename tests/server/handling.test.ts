/** Tasks and ratings on a real database: kept, refused by field, undone. */
import { expect, test } from 'vitest';
import { defineTask } from '@/lib/server/commands/define-task';
import { giveRating } from '@/lib/server/commands/give-rating';
import { giveTaskLoad } from '@/lib/server/commands/give-task-load';
import { db } from '@/lib/server/db';
import { loadWordsSince } from '@/lib/server/queries/load-corrections';
import { runCommand } from '@/lib/server/run-command';
import { readRating, readTask } from '@/lib/view/handling-edit';
import { addSession } from '../support/add-session';
import { freshDataDir } from '../support/data-dir';
import { sampleReconstruction } from '../support/sample-reconstruction';

freshDataDir();

const TYPED = {
  name: 'Roll',
  pilot: 'PILOT',
  fromS: '00:01:10',
  toS: '100',
  quantity: 'attitude_error.roll',
  target: '',
  desired: '0,5',
  adequate: '1.5',
  reason: '',
};

const define = (sessionId: string, typed: Readonly<Record<string, string>> = {}) =>
  runCommand(defineTask, { sessionId, ...readTask({ ...TYPED, ...typed }).word });

test('a task is kept in SI, once by its name', async () => {
  const sessionId = await addSession('s');
  expect((await define(sessionId)).ok).toBe(true);
  const [task] = (await loadWordsSince(sessionId)).standing.handlingTasks ?? [];
  expect(task).toMatchObject({ name: 'Roll', fromS: 70, toS: 100, target: 0, reason: null });
  expect(task?.desired).toBeCloseTo((0.5 * Math.PI) / 180, 12);
  expect(await define(sessionId)).toMatchObject({ code: 'task-there' });
});

test('bounds and times that make no sense are named by their field', async () => {
  const sessionId = await addSession('s');
  expect(await define(sessionId, { adequate: '0.1' })).toMatchObject({
    fields: { adequate: 'Adequate cannot be closer than desired.' },
  });
  expect(await define(sessionId, { toS: '60' })).toMatchObject({
    fields: { toS: 'It must end after it starts.' },
  });
  expect(readTask({ ...TYPED, desired: 'close', fromS: '' }).fields).toEqual({
    fromS: 'Nothing is given. Expected hh:mm:ss, hh:mm:ss.s or seconds.',
    desired: '“close” cannot be read. Expected a number, such as 0.5.',
  });
});

test('a rating needs answers that allow it, a measured task, and somebody at the stick', async () => {
  const sessionId = await addSession('s');
  const rate = (typed: Readonly<Record<string, string>>) =>
    runCommand(giveRating, {
      sessionId,
      task: 'Roll',
      ...readRating({ scale: 'cooper-harper', rater: 'PILOT', ...typed }).word,
    });
  const yes = {
    'answer.controllable': 'yes',
    'answer.adequate': 'yes',
    'answer.satisfactory': 'no',
  };
  expect(await rate({ ...yes, rating: '2' })).toMatchObject({ code: 'rating-not-allowed' });
  expect(await rate({ ...yes, rating: '5' })).toMatchObject({ code: 'no-such-task' });
  const base = {
    name: 'Roll',
    pilot: 'P',
    fromS: 0,
    toS: 1,
    quantity: 'y',
    target: 0,
    desired: 1,
    adequate: 2,
  };
  const keep = async (pilotInLoop: 'moved' | 'at rest') => {
    const task = { ...base, by: null, reason: null, pilotInLoop, activity: [], ratings: [] };
    const body = JSON.stringify({
      ...sampleReconstruction,
      handling: { tasks: [task], astray: [] },
    });
    const row = { sessionId, inputsSha256: pilotInLoop, engine: 'e', derivedFolder: '', body };
    await db().reconstruction.create({ data: { id: pilotInLoop, ...row }, select: { id: true } });
  };
  await keep('at rest');
  expect(await rate({ ...yes, rating: '5' })).toMatchObject({ code: 'flown-automatically' });
  await keep('moved');
  expect((await rate({ ...yes, rating: '5' })).ok).toBe(true);
  expect((await loadWordsSince(sessionId)).standing.handlingRatings).toMatchObject([
    { task: 'Roll', rating: 5, rater: 'PILOT', remark: null },
  ]);
  const load = {
    mental: 30,
    physical: 15,
    temporal: 60,
    performance: 40,
    effort: 30,
    frustration: 40,
  };
  const given = { sessionId, task: 'Roll', load, rater: 'PILOT', remark: '' };
  expect((await runCommand(giveTaskLoad, given)).ok).toBe(true);
  expect((await loadWordsSince(sessionId)).standing.handlingRatings?.[1]).toMatchObject({ load });
});
