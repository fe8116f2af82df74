/** The draft of a debrief: drafting, saving, blocks sent to it. Publishing is in publish-debrief.test.ts. */
import { beforeEach, describe, expect, test } from 'vitest';
import { blockId, type DocNode, nodeText } from '@/lib/core/debrief/document';
import { draftDebrief } from '@/lib/server/commands/draft-debrief';
import { publishDebrief } from '@/lib/server/commands/publish-debrief';
import { saveDebrief } from '@/lib/server/commands/save-debrief';
import { saveVersion } from '@/lib/server/commands/save-version';
import { sendBlock } from '@/lib/server/commands/send-block';
import { db } from '@/lib/server/db';
import { lookThrough } from '@/lib/server/publish/draft-content';
import { loadDebriefPage } from '@/lib/server/publish/load-debrief-page';
import {
  loadDraftStamp,
  loadEarlierVersion,
  loadEarlierVersions,
} from '@/lib/server/queries/load-draft-versions';
import { loadRegister } from '@/lib/server/queries/load-register';
import { runCommand } from '@/lib/server/run-command';
import { addReconstruction } from '../support/add-reconstruction';
import { addSession } from '../support/add-session';
import { freshDataDir } from '../support/data-dir';
import { loadDraft, reworded } from '../support/draft';

freshDataDir();

const paragraphs = (doc: DocNode) =>
  (doc.content ?? []).filter((block) => block.type === 'paragraph').map(nodeText);

beforeEach(async () => {
  await addSession('one');
  await addReconstruction('one');
  expect(await runCommand(draftDebrief, { sessionId: 'one' })).toMatchObject({ ok: true });
});

describe('drafting', () => {
  test('gives every block an id of its own, once', async () => {
    const { body } = await loadDraft('one');
    const ids = (body.content ?? []).map(blockId);
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids.length).toBeGreaterThan(20);
  });

  test('a second draft, and one without reconstruction, are refused', async () => {
    expect(await runCommand(draftDebrief, { sessionId: 'one' })).toMatchObject({
      ok: false,
      code: 'draft-is-there',
    });
    await addSession('two');
    expect(await runCommand(draftDebrief, { sessionId: 'two' })).toMatchObject({
      ok: false,
      code: 'not-reconstructed',
    });
  });
});

describe('drafting by a template', () => {
  const text = `title: Short
sections:
  - id: purpose
  - id: chair
    text: Read by the chair.
    must_hold: [words]
`;

  test('takes the version that was chosen, and publishes only what holds what it wants', async () => {
    const asked = { kind: 'template', entryId: null, version: 0, text, reason: 'first' };
    const saved = await runCommand(saveVersion, asked);
    if (!saved.ok) throw new Error(saved.message);
    await db().document.deleteMany({ where: { sessionId: 'one' } });
    const formed = { sessionId: 'one', templateId: saved.data.id };
    expect(await runCommand(draftDebrief, { ...formed, templateId: 'none' })).toMatchObject({
      code: 'not-found',
    });
    expect(await runCommand(draftDebrief, formed)).toMatchObject({ ok: true });
    const { body } = await loadDraft('one');
    const headings = (body.content ?? []).filter(({ type }) => type === 'heading').map(nodeText);
    expect(headings).toEqual(['Purpose', 'Chair']);
    const [entry] = await loadRegister('template');
    expect(entry?.versions[0]?.sessions.map(({ id }) => id)).toEqual(['one']);
    const wanting = { sessionId: 'one', version: 1, title: 'Arrival debrief' };
    expect(await runCommand(publishDebrief, wanting)).toMatchObject({
      code: 'open-blocks',
      message: 'Not published: The template wants words of your own under \u201cChair\u201d.',
    });
    expect(await runCommand(saveVersion, { ...asked, text: 'title: x' })).toMatchObject({
      code: 'not-readable',
      message: expect.stringContaining('This is no template.yaml yet'),
    });
  });
});

describe('saving', () => {
  test('raises the version and keeps what was there', async () => {
    const before = await loadDraft('one');
    const body = reworded(before.body, 0, 'Other words.');
    const saved = await runCommand(saveDebrief, { sessionId: 'one', version: 1, title: 'T', body });
    expect(saved).toMatchObject({ ok: true, data: { version: 2, body: null } });
    const kept = await db().documentRevision.findMany();
    expect(kept.map((row) => [row.version, JSON.parse(row.body)])).toEqual([[1, before.body]]);
    expect(await loadDraftStamp('one')).toMatchObject({ version: 2 });
    expect((await loadEarlierVersions('one')).map(({ version }) => version)).toEqual([1]);
    expect(await loadEarlierVersion('one', 1)).toEqual(before.body);
    expect(await loadEarlierVersion('one', Number.NaN)).toBeNull();
    expect(await loadEarlierVersion('another', 1)).toBeNull();
  });

  test('two people in different blocks are put together', async () => {
    const { body } = await loadDraft('one');
    const first = { sessionId: 'one', version: 1, title: 'T', body: reworded(body, 0, 'First.') };
    const second = { ...first, body: reworded(body, 1, 'Second.') };
    expect(await runCommand(saveDebrief, first)).toMatchObject({ ok: true, data: { version: 2 } });
    const merged = await runCommand(saveDebrief, second);
    expect(merged).toMatchObject({ ok: true, data: { version: 3 } });
    const now = await loadDraft('one');
    expect(paragraphs(now.body).slice(0, 2)).toEqual(['First.', 'Second.']);
    expect(merged.ok ? merged.data.body : null).toEqual(now.body);
  });

  test('two people in the same block: the second is refused and nothing is lost', async () => {
    const { body } = await loadDraft('one');
    const first = { sessionId: 'one', version: 1, title: 'T', body: reworded(body, 0, 'First.') };
    await runCommand(saveDebrief, first);
    const second = { ...first, body: reworded(body, 0, 'Second.') };
    expect(await runCommand(saveDebrief, second)).toMatchObject({
      ok: false,
      code: 'changed-meanwhile',
    });
    expect(paragraphs((await loadDraft('one')).body)[0]).toBe('First.');
  });

  test('a draft that is not valid is refused with what is wrong, and nothing is stored', async () => {
    const body = { type: 'doc', content: [{ type: 'script', attrs: { id: 'block-1' } }] };
    const refused = await runCommand(saveDebrief, {
      sessionId: 'one',
      version: 1,
      title: 'T',
      body,
    });
    expect(refused).toMatchObject({ ok: false, code: 'document-not-valid' });
    expect((await loadDraft('one')).version).toBe(1);
  });
});

describe('a block that is sent from another screen', () => {
  const board = { type: 'pollBoard', attributes: { at: 640, caption: 'Asked' }, section: 'rules' };
  const send = (more: object = {}) =>
    runCommand(sendBlock, { sessionId: 'one', ...board, ...more });

  test('stands under its heading, once, and counts as a change of the draft', async () => {
    expect(await send()).toMatchObject({
      ok: true,
      data: { version: 2, under: 'Rules and margins' },
    });
    expect(await send()).toMatchObject({ ok: false, code: 'there-already' });
    expect(await send({ attributes: { at: 'now' } })).toMatchObject({ code: 'document-not-valid' });
    expect(await send({ type: 'paragraph' })).toMatchObject({ code: 'invalid-input' });
    const { body } = await loadDraft('one');
    const types = (body.content ?? []).map(({ type }) => type);
    expect(types[types.indexOf('pollBoard') + 1]).toBe('heading');
    await db().document.deleteMany({ where: { sessionId: 'one' } });
    expect(await send()).toMatchObject({ ok: false, code: 'no-draft' });
  });

  test('is told as being computed, then as one that cannot be: this session keeps no samples', async () => {
    await send();
    const kinds = async () =>
      Object.values((await loadDebriefPage('one')).live).map(({ kind }) => kind);
    expect(await kinds()).toContain('waiting');
    await expect.poll(kinds).toContain('failed');
    const { checks = [] } = (await lookThrough('one')) ?? {};
    expect(checks.filter(({ gravity }) => gravity === 'stops')).toMatchObject([
      { message: expect.stringMatching(/^Poll board: what was known at 00:10:40\.0 could not be/) },
    ]);
  });
});
