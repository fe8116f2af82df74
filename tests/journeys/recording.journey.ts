/** A recording made of tones, attached on Sources and played on the timeline in step with its cursor. */
import { tonesWav } from '../support/tones';
import { demoSession } from './demo-session';
import { addAxe, axeViolations, expect, test } from './journey';

const STARTS_S = 600;

test('a recording is attached, played in step, wound by the cursor, and paused by its key', async ({
  page,
  complaints,
}) => {
  const session = await demoSession(page);
  await page.goto(`${session}/sources`);
  const recordings = page.locator('#recordings');
  await recordings.getByLabel(/^It starts at/).fill('00:10:00');
  const tones = { name: 'tones.wav', mimeType: 'text/plain', buffer: tonesWav(60) };
  await recordings.locator('input[type="file"]').setInputFiles(tones);
  await expect(recordings.getByRole('article', { name: 'tones.wav' })).toContainText(
    'starts at 00:10:00.0',
  );
  await addAxe(page);
  await page.goto(`${session}/timeline?from=560&to=700`);
  const cursor = page.getByRole('slider', { name: 'Cursor, session time' });
  const atS = async () => Number(await cursor.getAttribute('aria-valuenow'));
  const player = page.getByRole('region', { name: 'Sound and picture' });
  const playing = player.getByRole('button', { name: 'Pause' });
  await expect(player.getByRole('button', { name: 'Play' })).toBeVisible();
  await expect(cursor).toBeFocused();
  await page.keyboard.press('k');
  await expect(player).toContainText('No recording runs at the cursor');
  await player.getByRole('button', { name: 'Go to its start' }).click();
  await expect(cursor).toHaveAttribute('aria-valuenow', STARTS_S.toFixed(1));
  await player.getByRole('button', { name: '4 times as fast' }).click();
  await player.getByRole('button', { name: 'Play' }).click();
  await expect.poll(atS, { intervals: [50] }).toBeGreaterThan(STARTS_S + 1);
  // The rest of the screen is looked at with all the others.
  expect(await axeViolations(page, 'everything', '[aria-label="Sound and picture"]')).toEqual([]);
  await cursor.focus();
  await page.keyboard.press('e');
  const heard = page.locator('[data-entry][aria-current="true"]');
  await expect(heard).toHaveCount(1);
  await expect(playing).toBeVisible();
  // The element plays what lies under the cursor: 4 times as fast, so that a glance later is a little on.
  const apart = await page.evaluate(() => {
    const media = document.querySelector('video');
    const slider = document.querySelector('#timeline-cursor');
    return Number(slider?.getAttribute('aria-valuenow')) - (media?.currentTime ?? Number.NaN);
  });
  expect(Math.abs(apart - STARTS_S)).toBeLessThan(0.5);
  await page.keyboard.press('k');
  await expect(player.getByRole('button', { name: 'Play' })).toBeVisible();
  const stoodS = await atS();
  await page.waitForTimeout(150);
  expect(await atS()).toBe(stoodS);
  // The window moved past the cursor: keys act all the same, and lead back.
  const address = () => new URL(page.url()).search;
  const before = address();
  for (let times = 0; times < 4; times += 1) await page.keyboard.press('PageDown');
  await expect.poll(address, { intervals: [50] }).not.toBe(before);
  await expect(cursor).toBeFocused();
  for (let times = 0; times < 4; times += 1) await page.keyboard.press('b');
  await expect.poll(address, { intervals: [50] }).toBe(before);
  expect(complaints.take()).toEqual([]);
});
