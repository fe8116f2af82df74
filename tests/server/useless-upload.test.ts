import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { zipSync } from 'fflate';
import { afterAll, expect, test } from 'vitest';
import { findSessionRoot } from '@/lib/server/jobs/find-session-root';
import { sketchUpload } from '@/lib/server/uploads/upload-sketch';

const root = mkdtempSync(path.join(os.tmpdir(), 'wakeline-useless-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

type Contents = Readonly<Record<string, string | Uint8Array>>;

function upload(files: Contents): string {
  const folder = mkdtempSync(path.join(root, 'upload-'));
  mkdirSync(path.join(folder, 'files'));
  for (const [name, content] of Object.entries(files)) {
    writeFileSync(path.join(folder, 'files', name), content);
  }
  return folder;
}

async function faultsOf(files: Contents): Promise<readonly string[]> {
  const found = await sketchUpload(upload(files), 'files');
  return (found ?? []).map(({ file = '', message }) => `${file} ${message}`);
}

const text = (written: string): Uint8Array => new TextEncoder().encode(written);
// First bytes: PNG, W3C recommendation, section 5.2; an Office document is a zip that begins with
// [Content_Types].xml, ECMA-376 part 2 (from memory).
const PNG = Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13]);
const DOCX = zipSync({ '[Content_Types].xml': text('<Types/>') }, { level: 0 });

test.each([
  ['shot.csv', PNG, 'is a PNG picture, so nothing can be read from it: ask for the numbers'],
  ['empty.csv', '', 'is empty, so nothing can be read from it: export it again'],
  ['blank.csv', '\n\n', 'is nothing but blank lines'],
  ['head.csv', 'utc,x_m,y_m\n', 'is a header of 3 columns without a row under it'],
  ['inner.zip', zipSync({ 'a.csv': text('t,x\n0,1\n') }), 'is a zip archive, .* unpack it'],
  ['report.docx', DOCX, 'is an Office workbook or document, .* export the table as CSV'],
  ['notes.txt', 'All went well.\n', 'is text without a table, .* column names and rows'],
  ['notes.yaml', 'note: all went well\n', 'is YAML or JSON that is no plan and no rules'],
])('%s: its real fault and what to do are said', async (name, content, expected) => {
  const [message, ...others] = await faultsOf({ [name]: content });
  expect(others).toEqual([]);
  expect(message).toMatch(new RegExp(`^${name} ${expected}`));
});

test('each useless file is named; beside one that can be described none stands in the way', async () => {
  expect(await faultsOf({ 'a.csv': '', 'b.csv': PNG })).toHaveLength(2);
  const table = 't_s,x_m\n0,10\n1,9.9\n2,9.8\n3,9.7\n';
  expect(await sketchUpload(upload({ 'a.csv': '', 'nav.csv': table }), 'files')).toBeNull();
});

test('a plan alone is no useless file, but no session either', async () => {
  const folder = upload({ 'plan.yaml': 'plan:\n  steps: []\n' });
  expect(await sketchUpload(folder, 'files')).toEqual([]);
  const { issues } = await findSessionRoot(path.join(folder, 'files'));
  expect(issues[0]?.message).toContain('Found: one file: plan.yaml.');
});

test('a session file under each of its names is found', async () => {
  for (const name of ['session.yaml', 'session.yml', 'session.json']) {
    const files = path.join(upload({ [name]: '{}' }), 'files');
    expect(await findSessionRoot(files)).toEqual({ folder: files, issues: [] });
  }
});
