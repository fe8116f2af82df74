import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, expect, test } from 'vitest';
import type { SessionDescription } from '@/lib/core/intake/proposal/session-proposal';
import { describeUpload } from '@/lib/server/commands/describe-upload';
import { startImport } from '@/lib/server/commands/start-import';
import { startQueue, stopQueue } from '@/lib/server/jobs/queue';
import { sweepUploads } from '@/lib/server/jobs/sweep';
import { checkDescription } from '@/lib/server/queries/check-description';
import { loadDescription } from '@/lib/server/queries/load-description';
import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { runCommand } from '@/lib/server/run-command';
import { readUploadSketch } from '@/lib/server/uploads/upload-sketch';
import { freshDataDir } from '../support/data-dir';
import { writeDemoOnce } from '../support/demo-folder';
import { endedJob, sendFiles } from '../support/upload';

freshDataDir();

const demo = { folder: '' };
beforeAll(async () => {
  demo.folder = path.join(mkdtempSync(path.join(os.tmpdir(), 'wakeline-described-')), 'flight');
  writeDemoOnce(demo.folder);
});
afterAll(() => rmSync(path.dirname(demo.folder), { recursive: true, force: true }));
beforeEach(() => startQueue());
afterEach(() => stopQueue());

const LINES = 2_500;

/** Telemetry and voice log alone, as a team that has no session.yaml sends them. */
function sendBare(lines = LINES): string {
  return sendFiles((files) => {
    const telemetry = readFileSync(path.join(demo.folder, 'telemetry.csv'), 'utf8');
    writeFileSync(
      path.join(files, 'telemetry.csv'),
      `${telemetry.split('\n').slice(0, lines).join('\n')}\n`,
    );
    for (const name of ['loop.vtt', 'plan.yaml', 'rules.yaml'])
      writeFileSync(path.join(files, name), readFileSync(path.join(demo.folder, name)));
  });
}

async function proposed(uploadId: string): Promise<SessionDescription> {
  const found = await loadDescription(uploadId);
  if (found === null) throw new Error('nothing to describe');
  return { ...found.proposal.description, title: 'Described by hand' };
}

test('files without a session.yaml wait for a description and are imported with it', async () => {
  const uploadId = sendBare();
  const asked = await endedJob(runCommand(startImport, { uploadId }));
  expect(asked).toMatchObject({ state: 'done', sessionId: null, result: { describe: uploadId } });
  await sweepUploads({ idleMs: 0 });

  const description = await proposed(uploadId);
  const uses = description.files.map(({ file, use }) => [file, use]);
  expect(uses).toEqual([
    ['loop.vtt', 'events'],
    ['plan.yaml', 'plan'],
    ['rules.yaml', 'rules'],
    ['telemetry.csv', 'telemetry'],
  ]);
  const job = await endedJob(runCommand(describeUpload, { uploadId, description }));
  expect(job.result?.issues.filter(({ severity }) => severity === 'error')).toEqual([]);
  const reconstruction = await loadReconstruction(job.sessionId ?? '');
  expect(reconstruction?.session.title).toBe('Described by hand');
  expect(reconstruction?.phases.length).toBeGreaterThan(0);
  await expect.poll(() => readUploadSketch(uploadId)).toBeNull();

  const again = sendBare(LINES - 1);
  await endedJob(runCommand(startImport, { uploadId: again }));
  const second = await loadDescription(again);
  expect(second?.proposal.reasons.map(({ said }) => said).join()).toContain(
    'read as in "Described by hand"',
  );
});

test('a wrong sign and a wrong unit are said before the import, open questions stop it', async () => {
  const uploadId = sendBare(Number.POSITIVE_INFINITY);
  await endedJob(runCommand(startImport, { uploadId }));
  const sketch = await readUploadSketch(uploadId);
  if (sketch === null) throw new Error('no sketch');
  const good = await proposed(uploadId);
  expect(checkDescription(sketch, good).issues).toEqual([]);

  const change = (as: string, to: object): SessionDescription => ({
    ...good,
    files: good.files.map((file) => ({
      ...file,
      channels: file.channels.map((each) => (each.as === as ? { ...each, ...to } : each)),
    })),
  });
  const codes = (description: SessionDescription): readonly string[] =>
    checkDescription(sketch, description).issues.map(({ code }) => code);
  expect(codes(change('velocity.x', { sign: -1 }))).toContain('columns-disagree-sign');
  expect(codes(change('position.x', { unit: 'ft' }))).toContain('columns-disagree-unit');

  const [file] = good.files;
  const other = file === undefined ? [] : [{ ...file, file: 'loop-2.vtt' }];
  expect(codes({ ...good, files: [...good.files, ...other] })).toEqual(['file-missing']);

  const open = change('position.x', { unit: null });
  const refused = await runCommand(describeUpload, { uploadId, description: open });
  expect(refused).toMatchObject({ ok: false, code: 'description-open' });
  expect(refused.ok ? '' : refused.message).toMatch(/unit of ".+" \(position\.x\) is not said/);
});
