import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { beforeEach, expect, test } from 'vitest';
import { restoreDebrief } from '@/lib/server/commands/restore-debrief';
import { setNumberScheme } from '@/lib/server/commands/set-number-scheme';
import { withdrawDebrief } from '@/lib/server/commands/withdraw-debrief';
import { publishedRoot } from '@/lib/server/data-folders';
import { db } from '@/lib/server/db';
import { leadingRevisionOf } from '@/lib/server/publish/load-record';
import { findPublications } from '@/lib/server/queries/find-publications';
import { loadPublication } from '@/lib/server/queries/load-publications';
import { runCommand } from '@/lib/server/run-command';
import { publishedRows, supersededView } from '@/lib/view/debrief/published-view';
import { freshDataDir } from '../support/data-dir';

freshDataDir();

async function addPublication(number: number, revision: number, text: string): Promise<void> {
  const folder = `${number}-r${revision}`;
  mkdirSync(path.join(publishedRoot(), folder), { recursive: true });
  writeFileSync(path.join(publishedRoot(), folder, 'record.json'), JSON.stringify({ text }));
  await db().publication.create({
    data: {
      id: folder,
      teamId: 'local',
      number,
      revision,
      title: `Arrival ${number}`,
      designation: `ARR-2027-00${number}`,
      sha256: `${number}${revision}`.repeat(32),
      folder,
      publishedBy: 'Somebody',
    },
  });
}

beforeEach(async () => {
  await addPublication(1, 1, 'The jets stayed on.');
  await addPublication(1, 2, 'The jets stayed on for three seconds.');
  await addPublication(2, 1, 'Nothing was out of the ordinary.');
});

const labels = async (query: string) =>
  publishedRows(await findPublications(query)).map(({ label }) => label);

test('the register is searched by words of the text, designation, title and hash', async () => {
  expect(await labels('')).toHaveLength(3);
  expect(await labels('JETS three')).toEqual(['ARR-2027-001, revision 2']);
  expect(await labels('arr-2027-002')).toEqual(['ARR-2027-002, revision 1']);
  expect(await labels('1212')).toEqual(['ARR-2027-001, revision 2']);
  expect(await labels('jets ordinary')).toEqual([]);
});

test('a withdrawn revision says so with its reason, once, and keeps its files', async () => {
  const place = { number: 2, revision: 1 };
  expect(await runCommand(withdrawDebrief, { ...place, reason: ' ' })).toMatchObject({ ok: false });
  const reason = 'The telemetry was of another flight.';
  expect(await runCommand(withdrawDebrief, { ...place, reason })).toMatchObject({ ok: true });
  expect((await loadPublication(2, 1))?.withdrawn).toMatchObject({ by: 'Local reviewer', reason });
  const row = publishedRows(await findPublications('withdrawn another'))[0];
  expect(row).toMatchObject({ state: 'withdrawn', reason, label: 'ARR-2027-002, revision 1' });
  expect(await runCommand(withdrawDebrief, { ...place, reason })).toMatchObject({
    ok: false,
    code: 'withdrawn-already',
  });
  expect(await runCommand(withdrawDebrief, { number: 9, revision: 1, reason })).toMatchObject({
    code: 'not-found',
  });
  expect(await labels('ordinary')).toHaveLength(1);
});

test('with revision 2 withdrawn, revision 1 stands again and is where the number leads', async () => {
  const states = async () =>
    publishedRows(await findPublications('ARR-2027-001')).map(({ state }) => state);
  const said = async (revision: number) => {
    const found = await loadPublication(1, revision);
    if (found === null) throw new Error('it was published');
    return supersededView(found)?.text ?? null;
  };
  expect(await states()).toEqual(['newest', 'superseded']);
  expect(await said(1)).toBe('This revision is superseded. Revision 2 is the newest.');
  const reason = 'A number was wrong.';
  await runCommand(withdrawDebrief, { number: 1, revision: 2, reason });
  expect(await states()).toEqual(['withdrawn', 'stands again']);
  expect(await leadingRevisionOf(1)).toBe(1);
  expect(await said(1)).toMatch(/^Revision 2 superseded this revision and was withdrawn: /);
  expect(await said(2)).toBe('Revision 1 stands.');
  await runCommand(withdrawDebrief, { number: 1, revision: 1, reason });
  expect(await states()).toEqual(['withdrawn', 'withdrawn']);
  expect([await leadingRevisionOf(1), await said(2)]).toEqual([2, null]);
});

test('a withdrawal made by mistake is taken back once, with the reason, and both acts stay', async () => {
  const place = { number: 2, revision: 1 };
  await runCommand(withdrawDebrief, { ...place, reason: 'The wrong one.' });
  const withdrawnAtIso = (await loadPublication(2, 1))?.withdrawn?.atIso ?? '';
  const back = { ...place, withdrawnAtIso, reason: 'Meant for debrief 1.' };
  expect(await runCommand(restoreDebrief, { ...back, reason: '' })).toMatchObject({ ok: false });
  const unseen = { ...back, withdrawnAtIso: '2020-01-01T00:00:00.000Z' };
  expect(await runCommand(restoreDebrief, unseen)).toMatchObject({ code: 'changed-meanwhile' });
  const both = await Promise.all([back, back].map((each) => runCommand(restoreDebrief, each)));
  expect(both.map((each) => (each.ok ? 'done' : each.code)).sort()).toEqual([
    'done',
    'not-withdrawn',
  ]);
  const found = await loadPublication(2, 1);
  expect(found?.withdrawn).toBeNull();
  const acts = (found?.earlierActs ?? []).map(({ kind, reason }) => [kind, reason]);
  expect(acts).toEqual([
    ['withdrawn', 'The wrong one.'],
    ['restored', 'Meant for debrief 1.'],
  ]);
  expect(publishedRows(await findPublications('arr-2027-002'))[0]).toMatchObject({
    state: 'newest',
    reason: '',
    restored: true,
  });
  await runCommand(withdrawDebrief, { ...place, reason: 'After all.' });
  expect((await loadPublication(2, 1))?.earlierActs).toHaveLength(2);
});

test('a scheme that is not valid is refused, one that is holds for the team', async () => {
  expect(
    await runCommand(setNumberScheme, { scheme: 'ARR', seen: 'Debrief {number}' }),
  ).toMatchObject({
    ok: false,
    code: 'scheme-not-valid',
  });
  expect(
    await runCommand(setNumberScheme, { scheme: 'ARR-{number:3}', seen: 'Debrief {number}' }),
  ).toMatchObject({
    ok: true,
  });
  const team = await db().team.findUniqueOrThrow({ where: { id: 'local' } });
  expect(team.numberScheme).toBe('ARR-{number:3}');
});

test('of two people who change the scheme the second is told what it is now', async () => {
  const seen = 'Debrief {number}';
  await runCommand(setNumberScheme, { scheme: 'A-{number}', seen });
  const late = await runCommand(setNumberScheme, { scheme: 'B-{number}', seen });
  expect(late).toMatchObject({ ok: false, code: 'changed-meanwhile' });
  expect(late.ok ? '' : late.message).toContain('A-{number}');
  const team = await db().team.findUniqueOrThrow({ where: { id: 'local' } });
  expect(team.numberScheme).toBe('A-{number}');
});
