/** The demo as a newcomer meets it: whole after the first start, and gone for good by one action. */
import { readdirSync } from 'node:fs';
import path from 'node:path';
import { demoSession } from './demo-session';
import { expect, test } from './journey';
import { DEMO_DATA, startWakeline } from './wakeline-server';

const KEPT = ['published', 'samples', 'sessions'];

test('the demo is whole, and says that it is invented', async ({ page, wakeline }) => {
  const session = await demoSession(page);
  await expect(page.getByText(/not for real-time decisions/i)).toBeVisible();
  await page.goto(session);
  await expect(page.getByText(/invented/).first()).toBeVisible();
  await page.goto(`${session}/findings`);
  await expect(page.getByRole('main').locator('tbody tr')).toHaveCount(3);
  for (const number of [1, 2, 3]) {
    await page.goto(`${session}/findings/${number}`);
    const figures = page.getByRole('heading', { name: /^Figures of this stretch/ });
    await expect(figures, `finding ${number}`).toHaveCount(1);
    expect(await page.locator('table.data tbody tr').count()).toBeGreaterThan(0);
  }
  await page.goto('/published/2/1');
  await expect(page.getByRole('heading', { name: 'Lessons of the flight before' })).toBeVisible();
  for (const number of [1, 2]) {
    for (const name of readdirSync(path.join(wakeline.dataDir, 'published', `${number}-r1`))) {
      const answer = await page.request.get(`/published/${number}/1/${name}`);
      expect(answer.status(), name).toBe(200);
      await answer.dispose();
    }
  }
});

test('one action removes the demo wholly and for good', async ({ page }) => {
  const server = await startWakeline(process.env[DEMO_DATA]);
  try {
    await page.goto(server.url);
    const removals = page.getByRole('button', { name: /^Remove Wherry/ });
    await expect(removals).toHaveCount(2);
    await removals.first().click();
    await page.getByRole('button', { name: 'Remove the demo' }).click();
    await expect(page.getByRole('row', { name: /invented demo/ })).toHaveCount(0);
    const left = () => KEPT.flatMap((name) => readdirSync(path.join(server.dataDir, name)));
    await expect.poll(left).toEqual([]);
    await page.goto(`${server.url}/published`);
    await expect(page.getByText('invented demo')).toHaveCount(0);
    await server.stop('SIGTERM');
    await server.start();
    await page.goto(server.url);
    await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
    await expect(page.getByText('invented demo')).toHaveCount(0);
    expect(left()).toEqual([]);
  } finally {
    await server.remove();
  }
});
