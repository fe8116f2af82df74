import { readFileSync } from 'node:fs';
import path from 'node:path';
import { beforeEach, expect, test } from 'vitest';
import { verifyRecord } from '@/lib/core/debrief/verify-record';
import { localActor } from '@/lib/server/actor';
import { approveDebrief } from '@/lib/server/commands/approve-debrief';
import { draftDebrief } from '@/lib/server/commands/draft-debrief';
import { editFinding } from '@/lib/server/commands/edit-finding';
import { publishDebrief } from '@/lib/server/commands/publish-debrief';
import { requireRoles } from '@/lib/server/commands/require-roles';
import { saveDebrief } from '@/lib/server/commands/save-debrief';
import { withdrawApproval } from '@/lib/server/commands/withdraw-approval';
import { publishedRoot } from '@/lib/server/data-folders';
import { db } from '@/lib/server/db';
import {
  loadApprovedNotice,
  loadDraftContent,
  lookThrough,
} from '@/lib/server/publish/draft-content';
import { findPublications } from '@/lib/server/queries/find-publications';
import { runCommand } from '@/lib/server/run-command';
import { publishedRows } from '@/lib/view/debrief/published-view';
import { addReconstruction } from '../support/add-reconstruction';
import { addSession } from '../support/add-session';
import { freshDataDir } from '../support/data-dir';

freshDataDir();

const DIRECTOR = { role: 'Flight director', name: 'A. Example' };

beforeEach(async () => {
  await addSession('one');
  await addReconstruction('one');
  expect(await runCommand(draftDebrief, { sessionId: 'one' })).toMatchObject({ ok: true });
});

async function view() {
  const looked = await lookThrough('one');
  if (looked === null) throw new Error('there is a draft');
  return looked.approvals;
}

async function seen() {
  const content = await loadDraftContent('one');
  if (content === null) throw new Error('there is a draft');
  return { version: content.draft.version, contentSha256: content.contentSha256 };
}

async function approve(who = DIRECTOR) {
  const { version, contentSha256 } = await seen();
  return runCommand(approveDebrief, { sessionId: 'one', version, contentSha256, ...who });
}

async function publish() {
  const { version, title } = await db().document.findUniqueOrThrow({ where: { sessionId: 'one' } });
  return runCommand(publishDebrief, { sessionId: 'one', version, title });
}

async function reword(words: string) {
  const row = await db().document.findUniqueOrThrow({ where: { sessionId: 'one' } });
  const doc = JSON.parse(row.body);
  const at = doc.content.findIndex((block: { type: string }) => block.type === 'paragraph');
  const content = words === '' ? doc.content[at].content : [{ type: 'text', text: words }];
  doc.content[at] = { ...doc.content[at], content };
  const { version, title } = row;
  return runCommand(saveDebrief, { sessionId: 'one', version, title, body: doc });
}

/** One is given after the record was made: the record waits until it is gone again. */
async function publishWithApprovalMeanwhile() {
  const { version, title } = await db().document.findUniqueOrThrow({ where: { sessionId: 'one' } });
  const asked = { sessionId: 'one', version, title, reason: '' };
  const who = { actor: localActor(), now: new Date() };
  const prepared = (await publishDebrief.prepare?.(who, asked)) ?? null;
  const run = () =>
    db().$transaction((tx) =>
      publishDebrief.run({ ...who, tx, afterCommit: () => undefined }, asked, prepared),
    );
  await approve({ role: 'Observer', name: 'C. Example' });
  await expect(run()).rejects.toThrow('An approval was given or withdrawn');
  const { id } = await db().approval.findFirstOrThrow({ where: { role: 'Observer' } });
  expect(await runCommand(withdrawApproval, { id, name: 'C. Example' })).toMatchObject({
    ok: true,
  });
  await run();
}

const standing = async () => (await view()).standing.map(({ text }) => text.replace(/,.*/, ''));

test('a change of the draft withdraws what was approved, the same text saved again does not', async () => {
  expect(await approve()).toMatchObject({ ok: true });
  expect(await reword('')).toMatchObject({ ok: true, data: { withdrawnApprovals: 0 } });
  expect(await standing()).toEqual(['Flight director: A. Example']);
  expect(await loadApprovedNotice('one')).toContain('A. Example (Flight director)');
  expect(await reword('Other words.')).toMatchObject({ data: { withdrawnApprovals: 1 } });
  const { standing: none, past } = await view();
  expect([none, past[0]?.note]).toEqual([
    [],
    expect.stringMatching(/^Withdrawn by Local reviewer, .* The draft was changed: version 3\.$/),
  ]);
  expect(await loadApprovedNotice('one')).toBeNull();
});

test('an approval of what has changed meanwhile, in text or in figures, is refused', async () => {
  const looked = { sessionId: 'one', ...(await seen()), ...DIRECTOR };
  const finding = await db().finding.findFirstOrThrow();
  const { id, version: was, title, seen: said, change, kind, severity, state } = finding;
  const { fromS, toS } = finding;
  const lists = { channels: JSON.parse(finding.channels), figures: JSON.parse(finding.figures) };
  const words = { title: `${title} again`, seen: said, change, kind, severity, state };
  const edit = { id, version: was, ...words, fromS, toS, ...lists };
  expect(await runCommand(editFinding, edit)).toMatchObject({ ok: true });
  const refused = await runCommand(approveDebrief, looked);
  expect(refused).toMatchObject({ ok: false, code: 'changed-meanwhile' });
  expect(refused.ok ? '' : refused.message).toContain('findings');
  await reword('Other words.');
  const { contentSha256 } = await seen();
  const late = { ...looked, contentSha256 };
  expect(await runCommand(approveDebrief, late)).toMatchObject({ code: 'changed-meanwhile' });
  expect(await db().approval.count()).toBe(0);
});

test('publishing without a required role names it; its approval stands in record, page and register', async () => {
  const roles = 'Flight director\nSafety officer\n\nflight  director';
  expect(await runCommand(requireRoles, { roles, seen: '' })).toMatchObject({ ok: true });
  expect(await runCommand(requireRoles, { roles: 'Other', seen: '' })).toMatchObject({
    code: 'changed-meanwhile',
    message: expect.stringContaining('Flight director, Safety officer'),
  });
  await approve();
  expect((await view()).missing).toBe(
    'The approval of the role \u201cSafety officer\u201d is missing.',
  );
  const refused = await publish();
  expect(refused).toMatchObject({ ok: false, code: 'approval-missing' });
  expect(refused.ok ? '' : refused.message).toBe(
    'Not published: The approval of the role \u201cSafety officer\u201d is missing.',
  );
  expect(await approve({ role: 'safety officer', name: 'B. Example <b>' })).toMatchObject({
    ok: true,
  });
  expect(await approve()).toMatchObject({ ok: false, code: 'approved-already' });
  const { contentSha256 } = await seen();
  await publishWithApprovalMeanwhile();
  const folder = path.join(publishedRoot(), '1-r1');
  const json = readFileSync(path.join(folder, 'record.json'), 'utf8');
  const verified = verifyRecord(json, []);
  expect(verified.lines).toEqual([]);
  const identity = 'stated at that moment; no account proved it';
  expect(verified.record?.approvals).toMatchObject([
    { role: 'Flight director', name: 'A. Example', contentSha256, identity },
    { role: 'safety officer', name: 'B. Example <b>', contentSha256, identity },
  ]);
  const html = readFileSync(path.join(folder, 'debrief.html'), 'utf8');
  expect(html).toContain('safety officer: B. Example &lt;b&gt;, ');
  expect(html).toContain('no account proved it');
  const [row] = publishedRows(await findPublications('flight director'));
  expect(row?.approved).toContain('A. Example (Flight director), B. Example <b> (safety officer)');
  expect(await approve()).toMatchObject({ ok: false, code: 'published-already' });
  await reword('Another revision.');
  expect((await view()).past.map(({ text }) => text)).toEqual([expect.stringMatching(/^Observer/)]);
});

test('of two approvals at once both are kept; anybody withdraws one once, by name', async () => {
  const people = [DIRECTOR, { role: 'Flight director', name: 'B. Example' }];
  const given = await Promise.all(people.map((who) => approve(who)));
  expect(given.every(({ ok }) => ok)).toBe(true);
  const { id } = await db().approval.findFirstOrThrow({ where: { name: DIRECTOR.name } });
  expect(await runCommand(withdrawApproval, { id, name: ' ' })).toMatchObject({ ok: false });
  const by = { id, name: 'C. Example', reason: 'Read again.' };
  const both = await Promise.all([by, by].map((each) => runCommand(withdrawApproval, each)));
  expect(both.map(({ ok }) => ok).sort()).toEqual([false, true]);
  const { standing: left, past } = await view();
  expect(left.map(({ text }) => text)).toEqual([expect.stringContaining('B. Example')]);
  expect(past[0]?.note).toMatch(/^Withdrawn by C\. Example, .* Read again\.$/);
  const audit = await db().auditEntry.findMany({
    where: { subject: id, outcome: 'done' },
    orderBy: { at: 'asc' },
  });
  expect(audit.map(({ command, detail }) => [command, JSON.parse(detail).name])).toEqual([
    ['approve-debrief', 'A. Example'],
    ['withdraw-approval', 'C. Example'],
  ]);
});

test('a role or name in which signs turn the direction of text is kept as it will be read', () => {
  const seen = { sessionId: 'one', version: 1, contentSha256: 'a'.repeat(64) };
  const read = approveDebrief.input.parse({ ...seen, role: 'Safety', name: 'A\u202eB  C' });
  expect(read.name).toBe('A[U+202E]B C');
});
