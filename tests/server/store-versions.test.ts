/** Which plans and rule sets are versions of one another. */
import { expect, test } from 'vitest';
import { readPlanFile } from '@/lib/core/session/read-plan-file';
import { localActor } from '@/lib/server/actor';
import { db } from '@/lib/server/db';
import { deleteUnusedVersions } from '@/lib/server/jobs/remove-demo-rows';
import { storePlan, storeRules } from '@/lib/server/jobs/store-versions';
import { newId } from '@/lib/server/new-id';
import { freshDataDir } from '../support/data-dir';
import { smallSession } from '../support/small-session';

freshDataDir();

type Brought = Readonly<{
  session: string;
  kind?: 'flight' | 'simulation';
  /** Content and name of its rule file. */
  rules?: string;
  rulesFile?: string;
  plan?: string;
}>;

const plan = readPlanFile(smallSession().get('plan.yaml') ?? '', 'plan.yaml').value;

/** Stores a session with its files; returns the numbers their versions were given. */
async function bring({ session, kind = 'flight', rulesFile = 'rules.yaml', ...files }: Brought) {
  const { rules = null, plan: planText = null } = files;
  const actor = localActor();
  const named = { title: session, kind };
  const planInput = { ...named, plan: planText === null ? null : plan, planSha256: planText };
  const rulesInput = { ...named, rules: [], rulesSha256: rules };
  return db().$transaction(async (tx) => {
    const planVersionId = await storePlan(tx, actor, { input: planInput, planText });
    const reading = { input: rulesInput, sessionFile: { rulesFile }, rulesText: rules };
    const ruleSetVersionId = await storeRules(tx, actor, reading);
    const id = newId();
    const own = {
      id,
      teamId: actor.teamId,
      ...named,
      zeroTaiNs: 0n,
      zeroUtc: '',
      origin: 'import',
    };
    const row = await tx.session.create({
      data: { ...own, folderSha256: id, planVersionId, ruleSetVersionId },
      select: {
        planVersion: { select: { number: true, entryId: true } },
        ruleSetVersion: { select: { number: true, entryId: true } },
      },
    });
    return { plan: row.planVersion, rules: row.ruleSetVersion };
  });
}

test('a changed file of the same flight is the next version of its entry', async () => {
  const first = await bring({ session: 'Arrival', rules: 'a', plan: 'p' });
  const second = await bring({ session: 'Arrival', rules: 'b', plan: 'q' });
  expect(first).toMatchObject({ plan: { number: 1 }, rules: { number: 1 } });
  expect(second).toMatchObject({ plan: { number: 2 }, rules: { number: 2 } });
  expect(second.rules?.entryId).toBe(first.rules?.entryId);
  expect(second.plan?.entryId).toBe(first.plan?.entryId);
});

test('files of the same name and title from unrelated sessions are entries of their own', async () => {
  const first = await bring({ session: 'Arrival', rules: 'a', plan: 'p' });
  const others = [
    await bring({ session: 'Another arrival', rules: 'b', plan: 'q' }),
    await bring({ session: 'Arrival', kind: 'simulation', rules: 'c', plan: 'r' }),
  ];
  const entries = [first, ...others].map((each) => each.rules?.entryId);
  expect(new Set(entries).size).toBe(3);
  for (const other of others) {
    expect(other).toMatchObject({ plan: { number: 1 }, rules: { number: 1 } });
  }
});

test('a rule file of another name is another entry, though of the same flight', async () => {
  await bring({ session: 'Arrival', rules: 'a' });
  const other = await bring({ session: 'Arrival', rules: 'b', rulesFile: 'abort-rules.yaml' });
  expect(other).toMatchObject({ plan: null, rules: { number: 1 } });
});

test('a rule file without a title is called by its name in words, with one by its title', async () => {
  await bring({ session: 'Arrival', rules: 'rules: []\n', rulesFile: 'in/abort-rules.yaml' });
  await bring({ session: 'Departure', rules: 'title: Leaving\nrules: []\n' });
  const titles = (await db().ruleSetVersion.findMany()).map(({ title }) => title);
  expect(titles.sort()).toEqual(['Abort rules', 'Leaving']);
});

test('a version that bears the bare name of its file is gone on from all the same', async () => {
  const first = await bring({ session: 'Arrival', rules: 'a' });
  await db().ruleSetVersion.updateMany({ data: { title: 'rules.yaml' } });
  const second = await bring({ session: 'Arrival', rules: 'b' });
  expect(second.rules).toEqual({ number: 2, entryId: first.rules?.entryId });
});

test('the same bytes are one version, and a change made from there goes on in its entry', async () => {
  const first = await bring({ session: 'Arrival', rules: 'a' });
  const shared = await bring({ session: 'Rehearsal', rules: 'a' });
  expect(shared.rules).toEqual(first.rules);
  const changed = await bring({ session: 'Rehearsal', rules: 'b' });
  expect(changed.rules).toEqual({ number: 2, entryId: first.rules?.entryId });
});

test('files of one id are versions of one entry, from whatever flight they come', async () => {
  const first = await bring({ session: 'Arrival', rules: 'id: approach\nrules: []\n' });
  const other = await bring({ session: 'Another', rules: 'id: approach\nrules: [ ]\n' });
  expect(other.rules).toEqual({ number: 2, entryId: first.rules?.entryId });
  const third = await bring({ session: 'Another', rules: 'id: abort\nrules: []\n' });
  expect(third.rules).toMatchObject({ number: 1 });
});

test('a file that is given an id later goes on in the entry of its flight', async () => {
  const first = await bring({ session: 'Arrival', rules: 'rules: []\n' });
  const named = await bring({ session: 'Arrival', rules: 'id: approach\nrules: []\n' });
  expect(named.rules).toEqual({ number: 2, entryId: first.rules?.entryId });
});

test('a version that a session was read with before is kept, to go back to; others go', async () => {
  const { teamId } = localActor();
  const clear = () => db().$transaction((tx) => deleteUnusedVersions(tx, teamId));
  const hashes = async () => (await db().ruleSetVersion.findMany()).map(({ sha256 }) => sha256);
  await bring({ session: 'Arrival', rules: 'a' });
  await bring({ session: 'Another', rules: 'b' });
  const [first, second] = await db().ruleSetVersion.findMany({ orderBy: { sha256: 'asc' } });
  const { id } = await db().session.findFirstOrThrow({ where: { title: 'Arrival' } });
  await db().session.update({ where: { id }, data: { ruleSetVersionId: second?.id ?? '' } });
  const use = { fromVersionId: first?.id ?? '', toVersionId: second?.id ?? '', author: 'P' };
  const data = { id: 'use', sessionId: id, kind: 'rules', reason: 'as agreed', ...use };
  await db().versionUse.create({ data });
  await clear();
  expect((await hashes()).sort()).toEqual(['a', 'b']);
  await db().session.deleteMany({ where: { id } });
  await clear();
  expect(await hashes()).toEqual(['b']);
});
