import { createHash } from 'node:crypto';
import { expect, test } from 'vitest';
import {
  type Approval,
  contentSha256Of,
  missingRoles,
  readRoles,
  STATED_ONLY,
} from '@/lib/core/debrief/approvals';
import { renderHtml } from '@/lib/core/debrief/html/render-html';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { approvableSha256, makeRecord, sealRecord } from '@/lib/core/debrief/record';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import { verifyRecord } from '@/lib/core/debrief/verify-record';
import { sampleMaterial } from '../../support/sample-material';

const paragraph = { type: 'paragraph', attrs: { id: 'block-1' } };
const doc = {
  type: 'doc',
  content: [
    { ...paragraph, content: [{ type: 'text', text: 'Words.' }] },
    { type: 'contactTable', attrs: { id: 'block-2' } },
  ],
};
const resolved = resolveDocument(doc, sampleMaterial, BUILT_IN_BLOCKS);
const approved = approvableSha256(resolved, sampleMaterial, 'Arrival');

function published(approvals: readonly Approval[], title = 'Arrival') {
  return makeRecord(resolved, sampleMaterial, {
    number: 7,
    revision: 2,
    designation: 'ARR-7',
    reason: 'Said more plainly.',
    title,
    publishedAtIso: '2016-03-10T08:00:00.000Z',
    publishedBy: 'Local reviewer',
    previousSha256: 'a'.repeat(64),
    approvals,
    signer: { algorithm: 'Ed25519', keySha256: 'b'.repeat(64), publicKeyPem: 'PEM' },
  });
}

const approval = {
  role: 'Flight director',
  name: 'A. Example <i>',
  atIso: '2016-03-10T07:00:00.000Z',
  contentSha256: approved,
  identity: STATED_ONLY,
} as const;

/** RFC 8785, 3.2: names sorted by UTF-16 code units, values as ECMAScript writes them. */
function canonical(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  const entries = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return `{${entries.map(([key, each]) => `${JSON.stringify(key)}:${canonical(each)}`).join(',')}}`;
}

test('what is approved before publishing is what the record is checked against', () => {
  const record = published([approval]);
  const { number, revision, designation, reason, publishedAtIso, publishedBy, ...rest } = record;
  const { previousSha256, approvals, signer, ...content } = rest;
  expect([number, revision, designation, reason, publishedBy]).toContain('ARR-7');
  expect([publishedAtIso, previousSha256, approvals, signer]).toHaveLength(4);
  // Source: RFC 8785 (JCS), FIPS 180-4 (SHA-256) as Node has it.
  const byHand = createHash('sha256').update(canonical(content)).digest('hex');
  expect([approved, contentSha256Of(record)]).toEqual([byHand, byHand]);
  expect(verifyRecord(sealRecord(record).json, []).lines).toEqual([]);
  expect(contentSha256Of(published([], 'Departure'))).not.toBe(approved);
});

test('a record whose approval is of other content differs, and says whose it is', () => {
  const record = published([approval]);
  const [first, ...others] = record.blocks;
  const other = sealRecord({ ...record, blocks: first === undefined ? [] : others });
  expect(verifyRecord(other.json, []).lines).toMatchObject(
    [{ gravity: 'differs', text: /^Flight director: A\. Example <i> approved content/ }].map(
      (line) => ({ ...line, text: expect.stringMatching(line.text) }),
    ),
  );
});

test('the page says who approved under which role, what, and that no account proved it', () => {
  const html = renderHtml(sealRecord(published([approval])), []);
  expect(html).toContain('Flight director: A. Example &lt;i&gt;, 2016-03-10 07:00 UTC');
  expect(html).toContain('no account proved it');
  expect(html).toContain(`${approved}: SHA-256 of the record as canonical JSON (RFC 8785) without`);
});

test('roles are compared without case and spaces, and read one a line', () => {
  const given = [{ role: ' FLIGHT   director' }];
  expect(missingRoles(['Flight director', 'Safety'], given)).toEqual(['Safety']);
  expect(readRoles(' A  b\r\n\na B\nC')).toEqual({ roles: ['A b', 'C'], fault: null });
  expect(readRoles('x'.repeat(81)).fault).toMatch(/at most 80 characters.* has 81/);
  expect(readRoles([...'abcdefghijklm'].join('\n')).fault).toMatch(/At most 12 .* 13/);
});
