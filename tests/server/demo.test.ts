import { existsSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { removeDemo } from '@/lib/server/commands/remove-demo';
import { publishedRoot, samplesRoot, sessionsRoot } from '@/lib/server/data-folders';
import { db } from '@/lib/server/db';
import { startQueue, stopQueue } from '@/lib/server/jobs/queue';
import { queueDemoOnce } from '@/lib/server/jobs/recover';
import { loadFindings } from '@/lib/server/queries/load-findings';
import { loadPublication, loadPublications } from '@/lib/server/queries/load-publications';
import { loadSessions } from '@/lib/server/queries/load-sessions';
import { runCommand } from '@/lib/server/run-command';
import { freshDataDir } from '../support/data-dir';

freshDataDir();

beforeEach(() => startQueue());
afterEach(() => stopQueue());

const namesIn = (folder: string): string[] => (existsSync(folder) ? readdirSync(folder) : []);

/** Loads the demo as the first start does. */
async function loadDemo(): Promise<string> {
  await queueDemoOnce();
  startQueue();
  const state = async () => (await db().job.findFirst({ select: { state: true } }))?.state;
  await expect.poll(state, { timeout: 90_000, interval: 100 }).not.toMatch(/waiting|running/);
  expect(await state()).toBe('done');
  const [session] = await loadSessions();
  return session?.id ?? '';
}

test('the demo comes whole, and one action removes it wholly and for good', async () => {
  const sessionId = await loadDemo();
  expect(await loadSessions()).toMatchObject([{ isDemo: true, findingCount: 3 }]);
  const findings = await loadFindings(sessionId);
  expect(findings.map((finding) => finding.figures.length > 0)).toEqual([true, true, true]);
  const publications = await loadPublications();
  expect(publications).toMatchObject([{ number: 1, revision: 1, isDemo: true, sessionId }]);
  const publication = await loadPublication(1, 1);
  expect(namesIn(path.join(publishedRoot(), publication?.folder ?? '')).sort()).toEqual(
    publication?.files.map((file) => file.name),
  );

  expect(await runCommand(removeDemo, {})).toEqual({ ok: true, data: { sessions: 1 } });
  expect(await loadSessions()).toEqual([]);
  expect(await loadPublications()).toEqual([]);
  for (const root of [publishedRoot(), samplesRoot(), sessionsRoot()]) {
    await expect.poll(() => namesIn(root)).toEqual([]);
  }
  await queueDemoOnce();
  expect(await db().job.count({ where: { state: 'waiting' } })).toBe(0);
}, 120_000);

test('removing the demo while it loads leaves nothing', async () => {
  await queueDemoOnce();
  startQueue();
  const job = () => db().job.findFirst({ select: { state: true, stage: true } });
  await expect
    .poll(async () => (await job())?.stage, { timeout: 60_000, interval: 20 })
    .toMatch(/telemetry/);
  expect((await runCommand(removeDemo, {})).ok).toBe(true);
  await expect.poll(async () => (await job())?.state, { timeout: 60_000 }).toBe('cancelled');
  for (const root of [publishedRoot(), samplesRoot(), sessionsRoot()]) {
    await expect.poll(() => namesIn(root)).toEqual([]);
  }
  expect(await db().session.count()).toBe(0);
}, 120_000);
