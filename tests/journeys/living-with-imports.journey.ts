/** Living with what was imported: a word judged, an edge moved, a limit changed, all taken back; a better file. */
import type { Page } from '@playwright/test';
import { smallSession } from '../support/small-session';
import { spokenLog } from '../support/spoken-log';
import { expect, test } from './journey';
import { chooseFiles, openImported } from './screens';

const REASON = 'said of the hold';
/** The hold of the small session ends 40 s after zero; there are five rows a second. */
const ROWS_OF_THE_HOLD = 180;

const asChosen = (name: string, text: string) => {
  return { name, mimeType: 'text/plain', buffer: Buffer.from(text) };
};

/** On the page of a rule set with two versions: the other one is put in use for its one session. */
async function putInUse(page: Page, reason: string): Promise<void> {
  const use = page.getByRole('button', { name: 'Use this version' }).first();
  await expect(use).toBeVisible();
  await page.getByLabel('Reason').first().fill(reason);
  await use.click();
  await expect(page.getByText('In use; the session is being computed again.')).toBeVisible();
}

test('a word is judged, an edge moved, a limit changed, all taken back; a better file lists what it changed', async ({
  page,
  complaints,
}) => {
  const files = smallSession(spokenLog());
  await chooseFiles(
    page,
    [...files].map(([name, text]) => asChosen(name, text)),
  );
  const session = await openImported(page);
  await page.goto(`${session}/sources/clock`);
  const value = page.getByRole('row', { name: /^\d.*Range 20 metres/ });
  const counts = page.locator('dt:text-is("tie points and spoken values") + dd');
  await expect(value).toContainText('used');
  await expect(counts).toHaveText('5 used, 1 doubtful');

  await test.step('rejected, it is out of the clock as soon as that is computed', async () => {
    await value.getByRole('button', { name: /^Judge/ }).click();
    await expect(page.getByLabel('reject: keep it out of the clock')).toBeFocused();
    const reason = page.getByRole('row', { name: /Keep this judgement/ }).getByLabel('Reason');
    await reason.press('Enter');
    await expect(page.getByText('A reason is needed.')).toBeVisible();
    await reason.fill(REASON);
    await reason.press('Enter');
    await expect(value).toContainText('rejected');
    await expect(counts).toHaveText('4 used, 1 rejected, 1 doubtful');
  });

  await test.step('taken back, the clock is what it was and the word stays on record', async () => {
    const correction = page.getByRole('row', { name: new RegExp(REASON) });
    await correction.getByRole('button', { name: /^Undo/ }).click();
    await expect(counts).toHaveText('5 used, 1 doubtful');
    await expect(value).toContainText('used');
    await expect(correction).toContainText(/undone/i);
  });

  await test.step('an edge is moved by hand and taken back, with what was computed beside it', async () => {
    await page.goto(`${session}/phases`);
    const final = page.getByRole('row', { name: /^Final/ }).first();
    await final.getByRole('button', { name: /^Move the edge/ }).press('Enter');
    const dialog = page.getByRole('dialog', { name: 'Move the edge from Hold 30 to Final' });
    await dialog.getByLabel(/^Time/).fill('10:00:45 UTC');
    await dialog.getByLabel(/^Standard deviation/).fill('0.5');
    await dialog.getByLabel('Reason').fill('the jets are heard later');
    await dialog.getByLabel('Reason').press('Enter');
    await expect(final).toContainText(/00:00:45\.0.*set by Local reviewer; computed 00:00:/);
    const correction = page.getByRole('row', { name: /the jets are heard later/ });
    await correction.getByRole('button', { name: /^Undo/ }).click();
    await expect(final).not.toContainText('set by');
    await expect(correction.getByRole('button', { name: /^Put back/ })).toBeVisible();
  });

  await test.step('a tighter limit is previewed, saved and put in use', async () => {
    await page.goto(`${session}/rules`);
    await page.getByRole('link', { name: 'Judged by Rules, version 1.' }).click();
    await page.getByRole('link', { name: 'Edit version 1' }).click();
    await page.getByRole('button', { name: /^Closing rate/ }).click();
    await page.getByLabel('Constant').fill('0.25');
    await page.getByRole('button', { name: 'Preview' }).click();
    await expect(
      page.getByRole('row', { name: /^Closing rate ?differs.*met.*broken/ }),
    ).toBeVisible();
    await page.getByLabel('Reason').fill('handbook change');
    await page.getByRole('button', { name: 'Save this version' }).click();
    await putInUse(page, 'as agreed');
    await page.getByRole('link', { name: 'See what changed' }).click();
    await expect(page.getByText('Rules, version 2 in place of version 1')).toBeVisible();
  });

  await test.step('put back in use, the former version judges as before', async () => {
    await page.goto(`${session}/rules`);
    await expect(page.locator('#rule-closing-rate')).toContainText('broken');
    await page.getByRole('link', { name: 'Judged by Rules, version 2.' }).click();
    await putInUse(page, 'it was a slip');
    await page.goto(`${session}/rules`);
    await expect(page.locator('#rule-closing-rate')).toContainText('met');
  });

  await test.step('a shorter telemetry takes the place of the first', async () => {
    await page.goto(`${session}/sources`);
    const replacing = page.getByRole('group').filter({ hasText: 'Replace telemetry.csv' });
    await replacing.locator('summary').click();
    const lines = (files.get('telemetry.csv') ?? '').split('\n').slice(0, ROWS_OF_THE_HOLD);
    const better = asChosen('better.csv', `${lines.join('\n')}\n`);
    await replacing.getByLabel('Choose the new file').setInputFiles(better);
    await page.waitForURL(/\/import\/[0-9a-z]{16}$/);
    expect(await openImported(page)).toBe(`${session}/sources/changes`);
  });

  await test.step('what it changed is listed: figures, and what is gone', async () => {
    await expect(page.getByText('telemetry.csv, now version 2')).toBeVisible();
    await expect(page.getByRole('row', { name: /^Phase Final/ })).toBeVisible();
    await expect(page.getByRole('row', { name: /^Phase 1 \(Hold 30\): end/ })).toBeVisible();
    expect(complaints.take()).toEqual([]);
  });
});
