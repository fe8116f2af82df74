import { existsSync, readdirSync } from 'node:fs';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { removeDemo } from '@/lib/server/commands/remove-demo';
import { publishedRoot, samplesRoot, sessionsRoot } from '@/lib/server/data-folders';
import { db } from '@/lib/server/db';
import { startQueue, stopQueue } from '@/lib/server/jobs/queue';
import { queueDemoOnce } from '@/lib/server/jobs/recover';
import { runCommand } from '@/lib/server/run-command';
import { freshDataDir } from '../support/data-dir';

freshDataDir();

beforeEach(() => startQueue());
afterEach(() => stopQueue());

const namesIn = (folder: string): string[] => (existsSync(folder) ? readdirSync(folder) : []);

// That it comes whole, and that one action removes it for good, a journey tests with a real start.
test('removing the demo while it loads leaves nothing', async () => {
  await queueDemoOnce();
  startQueue();
  const job = () => db().job.findFirst({ select: { state: true, stage: true } });
  await expect.poll(async () => (await job())?.stage, { interval: 20 }).toMatch(/telemetry/);
  expect((await runCommand(removeDemo, {})).ok).toBe(true);
  await expect.poll(async () => (await job())?.state).toBe('cancelled');
  for (const root of [publishedRoot(), samplesRoot(), sessionsRoot()]) {
    await expect.poll(() => namesIn(root)).toEqual([]);
  }
  expect(await db().session.count()).toBe(0);
});
