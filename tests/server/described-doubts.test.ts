import { mkdtempSync, rmSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, expect, test } from 'vitest';
import type { Issue } from '@/lib/core/result';
import { keepDoubts, keptDoubts } from '@/lib/server/uploads/described-doubts';
import { gravestFirst } from '@/lib/view/import-view';

const upload = mkdtempSync(path.join(os.tmpdir(), 'wakeline-doubts-'));
afterAll(() => rmSync(upload, { recursive: true, force: true }));

const doubt = (code: string, message: string): Issue => ({
  code,
  severity: 'warning',
  file: 'nav.csv',
  message,
});

test('what was doubtful in a description is said again with its session', async () => {
  expect(await keptDoubts(upload)).toEqual([]);
  const sign = doubt('columns-disagree-sign', '"rr" has the wrong sign against "x"');
  await keepDoubts(upload, [sign, doubt('zero-far', 'said again by the reader')]);
  expect(await keptDoubts(upload)).toEqual([sign]);
  await keepDoubts(upload, []);
  expect(await keptDoubts(upload)).toEqual([]);
});

test('what stops an import stands above what is only worth a look', () => {
  const note: Issue = { code: 'a', severity: 'note', message: '' };
  const error: Issue = { code: 'b', severity: 'error', message: '' };
  const order = gravestFirst([note, doubt('c', ''), error]).map(({ severity }) => severity);
  expect(order).toEqual(['error', 'warning', 'note']);
});
