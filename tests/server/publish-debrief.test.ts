/** Publishing: what is frozen, signed and served, and what is refused. */
import { createHash, createPublicKey, generateKeyPairSync, verify } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { beforeEach, expect, test } from 'vitest';
import { GET } from '@/app/published/[number]/[revision]/[file]/route';
import { readManifest } from '@/lib/core/debrief/package/manifest';
import { readRecord } from '@/lib/core/debrief/record';
import { draftDebrief } from '@/lib/server/commands/draft-debrief';
import { type PublishedDebrief, publishDebrief } from '@/lib/server/commands/publish-debrief';
import { saveDebrief } from '@/lib/server/commands/save-debrief';
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
import { runCommand } from '@/lib/server/run-command';
import { writeDerived } from '@/lib/server/samples/write-derived';
import { addReconstruction } from '../support/add-reconstruction';
import { addSession } from '../support/add-session';
import { freshDataDir } from '../support/data-dir';
import { loadDraft, reworded } from '../support/draft';
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

const sha256Of = (bytes: string | Buffer): string =>
  createHash('sha256').update(bytes).digest('hex');

async function publish(sessionId: string, title = 'Arrival debrief') {
  const { version } = await loadDraft(sessionId);
  const reason = 'Said more plainly.';
  return runCommand(publishDebrief, { sessionId, version, title, reason });
}

async function published(sessionId: string): Promise<PublishedDebrief> {
  const result = await publish(sessionId);
  if (!result.ok) throw new Error(result.message);
  return result.data;
}

beforeEach(async () => {
  await addSession('one');
  await addReconstruction('one');
  expect(await runCommand(draftDebrief, { sessionId: 'one' })).toMatchObject({ ok: true });
});

/** Record, page and rows of files agree in their bytes. */
async function expectFrozen(folder: string, sha256: string): Promise<void> {
  const json = readFileSync(path.join(folder, 'record.json'), 'utf8');
  expect(sha256Of(json)).toBe(sha256);
  expect(readRecord(json, sha256)).toMatchObject({
    title: 'Arrival debrief',
    number: 1,
    designation: 'Debrief 1',
  });
  const html = readFileSync(path.join(folder, 'debrief.html'), 'utf8');
  expect(html).toContain(sha256);
  expect(html).toContain('font/woff2;base64,');
  const files = await db().publicationFile.findMany({ orderBy: { name: 'asc' } });
  expect(files.map((file) => [file.name, Number(file.bytes), file.sha256])).toEqual(
    PUBLISHED_FILES.map((name) => {
      const bytes = readFileSync(path.join(folder, name));
      return [name, bytes.length, sha256Of(bytes)];
    }),
  );
}

/** The manifest is of all files, and any flipped byte belies its signature. */
function expectSigned(folder: string): void {
  const key = createPublicKey(readFileSync(path.join(folder, 'signing-key.pem')));
  const manifest = readFileSync(path.join(folder, 'manifest.sha256'));
  const signature = readFileSync(path.join(folder, 'manifest.sig'));
  expect(verify(null, manifest, key, signature)).toBe(true);
  const listed = readManifest(manifest.toString()) ?? [];
  expect(listed.length).toBeGreaterThan(5);
  for (const { name, sha256 } of listed)
    expect(sha256Of(readFileSync(path.join(folder, name.replace('-1-r1', ''))))).toBe(sha256);
  manifest[10] = (manifest[10] ?? 0) ^ 1;
  expect(verify(null, manifest, key, signature)).toBe(false);
  expect(statSync(path.join(dataDir(), 'signing-key.pem')).mode & 0o777).toBe(0o600);
}

/** Files are served as they were published, and not at all once they were changed. */
async function expectServed(folder: string, sha256: string): Promise<void> {
  const file = await loadPublishedFile(1, 1, 'record.json');
  expect(file?.downloadName).toBe('record-1-r1.json');
  expect(file?.sha256).toBe(sha256);
  const params = Promise.resolve({ number: '1', revision: '1', file: 'record.json' });
  const sent = Buffer.from(
    await (await GET(new Request('http://127.0.0.1/'), { params })).arrayBuffer(),
  );
  expect([sent.length, sha256Of(sent)]).toEqual([file?.bytes, sha256]);
  expect(await loadPublishedFile(1, 1, '../../wakeline.db')).toBeNull();
  expect(await loadPublishedFile(2, 1, 'record.json')).toBeNull();
  writeFileSync(path.join(folder, 'record.json'), '{}');
  expect(await loadPublishedFile(1, 1, 'record.json')).toBeNull();
  expect(await leadingRevisionOf(1)).toBe(1);
}

test('a debrief is frozen under a number, signed and served, and the same again is no revision', async () => {
  const { number, revision, sha256 } = await published('one');
  expect([number, revision]).toEqual([1, 1]);
  const { version } = await loadDraft('one');
  const silent = await runCommand(publishDebrief, { sessionId: 'one', version, title: 'T' });
  expect(silent).toMatchObject({ ok: false, code: 'reason-needed' });
  expect(await publish('one')).toMatchObject({ ok: false, code: 'nothing-changed' });
  expect(readdirSync(publishedRoot())).toEqual(['1-r1']);
  const folder = path.join(publishedRoot(), '1-r1');
  await expectFrozen(folder, sha256);
  expectSigned(folder);
  await expectServed(folder, sha256);
});

test('a number in an address is a whole one from 1 on', () => {
  const read = [readCount('1'), readCount('0'), readCount('1e3'), readCount('../1')];
  expect(read).toEqual([1, null, null, null]);
});

test('a revision names the hash of the one before, which stays; another session gets the next number', async () => {
  const first = await published('one');
  const file = path.join(publishedRoot(), '1-r1', 'record.json');
  const before = readFileSync(file);
  const { body, version } = await loadDraft('one');
  const words = { sessionId: 'one', version, title: 'T', body: reworded(body, 0, 'New.') };
  await runCommand(saveDebrief, words);
  expect(await published('one')).toMatchObject({ number: 1, revision: 2 });
  const rows = await db().publication.findMany({ orderBy: { revision: 'asc' } });
  expect(rows.map((row) => row.previousSha256)).toEqual([null, first.sha256]);
  expect(readFileSync(file)).toEqual(before);
  await addSession('two');
  await db().reconstruction.updateMany({ data: { sessionId: 'two' } });
  await runCommand(draftDebrief, { sessionId: 'two' });
  expect(await published('two')).toMatchObject({ number: 2, revision: 1 });
});

test('two at once give one number; what a crash left is replaced by it, or swept at start', async () => {
  mkdirSync(path.join(publishedRoot(), '1-r1'), { recursive: true });
  writeFileSync(path.join(publishedRoot(), '1-r1', 'half'), 'x');
  mkdirSync(path.join(publishedRoot(), '.tmp-abc'));
  const both = await Promise.all([publish('one', 'A'), publish('one', 'B')]);
  expect(both.filter((each) => each.ok)).toHaveLength(1);
  expect(both.find((each) => !each.ok)).toMatchObject({ code: 'changed-meanwhile' });
  expect(readdirSync(path.join(publishedRoot(), '1-r1')).sort()).toEqual(PUBLISHED_FILES);
  await sweepPublished();
  expect(readdirSync(publishedRoot())).toEqual(['1-r1']);
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
  const { number, revision } = await published('drawn');
  const stored = await loadRecord(number, revision);
  const block = stored?.record?.blocks.find((each) => each.kind === 'figure');
  const traces = block?.kind === 'figure' ? block.plots.flatMap((plot) => plot.series) : [];
  const closing = traces.find((series) => series.id === 'closing_rate');
  expect(closing?.label).toBe('Closing rate');
  expect(Math.max(...(closing?.y ?? []).filter((value) => value !== null))).toBe(0.41);
  expect(closing?.y).toContain(null);
});
