import { createHash, createPublicKey, generateKeyPairSync, verify } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { beforeEach, describe, expect, test } from 'vitest';
import { GET } from '@/app/published/[number]/[revision]/[file]/route';
import { blockId, type DocNode, nodeText } from '@/lib/core/debrief/document';
import { readManifest } from '@/lib/core/debrief/package/manifest';
import { readRecord } from '@/lib/core/debrief/record';
import { draftDebrief } from '@/lib/server/commands/draft-debrief';
import { publishDebrief } from '@/lib/server/commands/publish-debrief';
import { saveDebrief } from '@/lib/server/commands/save-debrief';
import { saveVersion } from '@/lib/server/commands/save-version';
import { sendBlock } from '@/lib/server/commands/send-block';
import { publishedRoot, samplesRoot } from '@/lib/server/data-folders';
import { db } from '@/lib/server/db';
import { sweepPublished } from '@/lib/server/jobs/sweep';
import { lookThrough } from '@/lib/server/publish/draft-content';
import { loadDebriefPage } from '@/lib/server/publish/load-debrief-page';
import {
  leadingRevisionOf,
  loadPublishedFile,
  loadRecord,
  readCount,
} from '@/lib/server/publish/load-record';
import {
  loadDraftStamp,
  loadEarlierVersion,
  loadEarlierVersions,
} from '@/lib/server/queries/load-draft-versions';
import { loadRegister } from '@/lib/server/queries/load-register';
import { runCommand } from '@/lib/server/run-command';
import { writeDerived } from '@/lib/server/samples/write-derived';
import { addReconstruction } from '../support/add-reconstruction';
import { addSession } from '../support/add-session';
import { freshDataDir } from '../support/data-dir';
import { sampleDerived } from '../support/sample-derived';

const { dataDir } = freshDataDir();

/** What lies in a published folder. */
const PUBLISHED_FILES = [
  'data.zip',
  'debrief-a4.pdf',
  'debrief-letter.pdf',
  'debrief.docx',
  'debrief.html',
  'manifest.sha256',
  'manifest.sig',
  'markdown.zip',
  'record.json',
  'signing-key.pem',
];

async function loadDraft(sessionId: string) {
  const row = await db().document.findUniqueOrThrow({ where: { sessionId } });
  return { version: row.version, title: row.title, body: JSON.parse(row.body) as DocNode };
}

/** The draft with other words in its n-th paragraph. */
function reworded(doc: DocNode, index: number, words: string): DocNode {
  const target = (doc.content ?? []).filter((block) => block.type === 'paragraph')[index];
  return {
    ...doc,
    content: (doc.content ?? []).map((block) =>
      block === target ? { ...block, content: [{ type: 'text', text: words }] } : block,
    ),
  };
}

const paragraphs = (doc: DocNode) =>
  (doc.content ?? []).filter((block) => block.type === 'paragraph').map(nodeText);

async function publish(sessionId: string, title = 'Arrival debrief') {
  const { version } = await loadDraft(sessionId);
  const reason = 'Said more plainly.';
  return runCommand(publishDebrief, { sessionId, version, title, reason });
}

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
    expect(await publish('one')).toMatchObject({
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

test('a draft with derived columns shows them, and its record holds their points', async () => {
  await addSession('drawn');
  const folder = await writeDerived(samplesRoot(), sampleDerived);
  await db().finding.deleteMany();
  await addReconstruction('drawn', folder);
  await runCommand(draftDebrief, { sessionId: 'drawn' });
  const page = await loadDebriefPage('drawn');
  const figure = Object.values(page.live).find(
    (view) => view.kind === 'blocks' && view.blocks[0]?.kind === 'figure',
  );
  expect(JSON.stringify(figure)).toContain('Closing rate');
  expect(page.menu.blocks.map((group) => group.label)).toContain('Trace figure');
  const { checks = [] } = (await lookThrough('drawn')) ?? {};
  expect(checks.filter((check) => check.gravity === 'stops')).toEqual([]);
  expect(checks.length).toBeGreaterThan(0);
  const published = await publish('drawn');
  if (!published.ok) throw new Error(published.message);
  const stored = await loadRecord(published.data.number, published.data.revision);
  const block = stored?.record?.blocks.find((each) => each.kind === 'figure');
  const traces = block?.kind === 'figure' ? block.plots.flatMap((plot) => plot.series) : [];
  const closing = traces.find((series) => series.id === 'closing_rate');
  expect(closing?.label).toBe('Closing rate');
  expect(Math.max(...(closing?.y ?? []).filter((value) => value !== null))).toBe(0.41);
  expect(closing?.y).toContain(null);
});

test('files are served as they were published, and not at all once they were changed', async () => {
  const published = await publish('one');
  if (!published.ok) throw new Error(published.message);
  const file = await loadPublishedFile(1, 1, 'record.json');
  expect(file?.downloadName).toBe('record-1-r1.json');
  expect(file?.sha256).toBe(published.data.sha256);
  const params = Promise.resolve({ number: '1', revision: '1', file: 'record.json' });
  const sent = Buffer.from(
    await (await GET(new Request('http://127.0.0.1/'), { params })).arrayBuffer(),
  );
  expect([sent.length, createHash('sha256').update(sent).digest('hex')]).toEqual([
    file?.bytes,
    published.data.sha256,
  ]);
  expect(await loadPublishedFile(1, 1, '../../wakeline.db')).toBeNull();
  expect(await loadPublishedFile(2, 1, 'record.json')).toBeNull();
  writeFileSync(path.join(publishedRoot(), '1-r1', 'record.json'), '{}');
  expect(await loadPublishedFile(1, 1, 'record.json')).toBeNull();
  expect(await leadingRevisionOf(1)).toBe(1);
  expect([readCount('1'), readCount('0'), readCount('1e3'), readCount('../1')]).toEqual([
    1,
    null,
    null,
    null,
  ]);
});

describe('publishing', () => {
  test('freezes record and page under a number, with the hash of the stored bytes', async () => {
    const published = await publish('one');
    if (!published.ok) throw new Error(published.message);
    expect(published.data).toMatchObject({ number: 1, revision: 1 });
    const { version } = await loadDraft('one');
    const silent = await runCommand(publishDebrief, { sessionId: 'one', version, title: 'T' });
    expect(silent).toMatchObject({ ok: false, code: 'reason-needed' });
    const folder = path.join(publishedRoot(), '1-r1');
    const json = readFileSync(path.join(folder, 'record.json'), 'utf8');
    expect(createHash('sha256').update(json).digest('hex')).toBe(published.data.sha256);
    expect(readRecord(json, published.data.sha256)).toMatchObject({
      title: 'Arrival debrief',
      number: 1,
      designation: 'Debrief 1',
    });
    const html = readFileSync(path.join(folder, 'debrief.html'), 'utf8');
    expect(html).toContain(published.data.sha256);
    expect(html).toContain('font/woff2;base64,');
    const files = await db().publicationFile.findMany({ orderBy: { name: 'asc' } });
    expect(files.map((file) => [file.name, Number(file.bytes), file.sha256])).toEqual(
      PUBLISHED_FILES.map((name) => {
        const bytes = readFileSync(path.join(folder, name));
        return [name, bytes.length, createHash('sha256').update(bytes).digest('hex')];
      }),
    );
  });

  test('signs a manifest of all files, which any flipped byte belies', async () => {
    expect(await publish('one')).toMatchObject({ ok: true });
    const folder = path.join(publishedRoot(), '1-r1');
    const key = createPublicKey(readFileSync(path.join(folder, 'signing-key.pem')));
    const manifest = readFileSync(path.join(folder, 'manifest.sha256'));
    const signature = readFileSync(path.join(folder, 'manifest.sig'));
    expect(verify(null, manifest, key, signature)).toBe(true);
    for (const { name, sha256 } of readManifest(manifest.toString()) ?? []) {
      const stored = name.replace('-1-r1', '');
      const bytes = readFileSync(path.join(folder, stored));
      expect(createHash('sha256').update(bytes).digest('hex')).toBe(sha256);
    }
    manifest[10] = (manifest[10] ?? 0) ^ 1;
    expect(verify(null, manifest, key, signature)).toBe(false);
    expect(statSync(path.join(dataDir(), 'signing-key.pem')).mode & 0o777).toBe(0o600);
  });

  test('a key that cannot be used is said, and never replaced', async () => {
    const file = path.join(dataDir(), 'signing-key.pem');
    const rsa = generateKeyPairSync('rsa', { modulusLength: 1024 }).privateKey;
    for (const text of ['no key', rsa.export({ type: 'pkcs8', format: 'pem' }).toString()]) {
      writeFileSync(file, text);
      expect(await publish('one')).toMatchObject({ code: 'signing-key-unusable' });
      expect(readFileSync(file, 'utf8')).toBe(text);
    }
  });

  test('a revision names the hash of the one before, which stays as it was', async () => {
    const first = await publish('one');
    const file = path.join(publishedRoot(), '1-r1', 'record.json');
    const before = readFileSync(file);
    const { body, version } = await loadDraft('one');
    await runCommand(saveDebrief, {
      sessionId: 'one',
      version,
      title: 'T',
      body: reworded(body, 0, 'New.'),
    });
    const second = await publish('one');
    if (!first.ok || !second.ok) throw new Error('both are published');
    expect(second.data).toMatchObject({ number: 1, revision: 2 });
    const rows = await db().publication.findMany({ orderBy: { revision: 'asc' } });
    expect(rows.map((row) => row.previousSha256)).toEqual([null, first.data.sha256]);
    expect(readFileSync(file)).toEqual(before);
  });

  test('the same again is no revision', async () => {
    await publish('one');
    expect(await publish('one')).toMatchObject({ ok: false, code: 'nothing-changed' });
    expect(readdirSync(publishedRoot())).toEqual(['1-r1']);
  });

  test('another session gets the next number', async () => {
    await publish('one');
    await addSession('two');
    await db().reconstruction.updateMany({ data: { sessionId: 'two' } });
    await runCommand(draftDebrief, { sessionId: 'two' });
    expect(await publish('two')).toMatchObject({ ok: true, data: { number: 2, revision: 1 } });
  });

  test('a version that is not the newest is refused and leaves no file', async () => {
    const { body } = await loadDraft('one');
    await runCommand(saveDebrief, { sessionId: 'one', version: 1, title: 'T', body });
    const refused = await runCommand(publishDebrief, { sessionId: 'one', version: 1, title: 'T' });
    expect(refused).toMatchObject({ ok: false, code: 'changed-meanwhile' });
    expect(await db().publication.count()).toBe(0);
  });

  test('a draft with a block that points at nothing is refused with the block named', async () => {
    const { body, version } = await loadDraft('one');
    const broken = {
      ...body,
      content: [
        ...(body.content ?? []),
        { type: 'findingCard', attrs: { id: 'block-x', findingId: 'gone' } },
      ],
    };
    await runCommand(saveDebrief, { sessionId: 'one', version, title: 'T', body: broken });
    const refused = await publish('one');
    expect(refused).toMatchObject({ ok: false, code: 'open-blocks' });
    expect(refused.ok ? '' : refused.message).toContain('Finding: it is no longer there.');
  });

  test('what a crash left is replaced by the next publication, or swept at start', async () => {
    mkdirSync(path.join(publishedRoot(), '1-r1'), { recursive: true });
    writeFileSync(path.join(publishedRoot(), '1-r1', 'half'), 'x');
    mkdirSync(path.join(publishedRoot(), '.tmp-abc'));
    expect(await publish('one')).toMatchObject({ ok: true });
    expect(readdirSync(path.join(publishedRoot(), '1-r1')).sort()).toEqual(PUBLISHED_FILES);
    await sweepPublished();
    expect(readdirSync(publishedRoot())).toEqual(['1-r1']);
  });

  test('two at once: one number each is given once', async () => {
    const both = await Promise.all([publish('one', 'A'), publish('one', 'B')]);
    expect(both.filter((each) => each.ok)).toHaveLength(1);
    expect(both.find((each) => !each.ok)).toMatchObject({ code: 'changed-meanwhile' });
    expect(readdirSync(publishedRoot())).toEqual(['1-r1']);
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
