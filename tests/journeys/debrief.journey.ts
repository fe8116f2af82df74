/** The whole main job, by the person who does it: import, look, write a finding, debrief, publish. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Page } from '@playwright/test';
import { demoSession } from './demo-session';
import { addAxe, axeViolations, expect, test } from './journey';
import {
  chooseFiles,
  debriefText,
  draftDebrief,
  openImported,
  publishDraft,
  savedAfter,
  selectByKeyboard,
  typeInDraft,
  writeFinding,
} from './screens';
import { makeSessionFolders, type SessionFolders } from './session-folders';

const TITLE = 'Second arrival at Farpier';
const FINDING = 'Axial speed rose before the hold was called';
const SENTENCE = 'The crew called the hold before the rule was broken.';
const LATER = 'And this came after the publication.';

let folders: SessionFolders;
test.beforeAll(() => {
  folders = makeSessionFolders();
});
test.afterAll(() => folders.remove());

function sha256(bytes: Buffer): string {
  return createHash('sha256').update(bytes).digest('hex');
}

/** Saves what a link downloads and returns its file. */
async function download(page: Page, name: RegExp): Promise<string> {
  const started = page.waitForEvent('download');
  await page.getByRole('link', { name }).first().click();
  const file = path.join(folders.root, (await started).suggestedFilename());
  await (await started).saveAs(file);
  return file;
}

async function shownHash(page: Page): Promise<string> {
  const imprint = page.getByRole('article').locator('header');
  return ((await imprint.locator('dt:text-is("SHA-256") + dd').textContent()) ?? '').trim();
}

test('from a session folder to a published debrief that never changes', async ({
  page,
  context,
  complaints,
}) => {
  await demoSession(page);
  await chooseFiles(page, folders.zipped(folders.renamed(TITLE)));
  const session = await openImported(page);
  await page.goto('/');
  await page.getByRole('link', { name: TITLE }).click();
  await expect(page).toHaveURL(new RegExp(`${session}$`));

  await test.step('the overview answers in sentences', async () => {
    const answer = page.getByRole('region', { name: 'The answer' });
    await expect(answer).toContainText(/Contact at/i);
    await expect(answer).toContainText(/rule/i);
    await expect(page.getByRole('heading', { name: 'Rules by margin' })).toBeVisible();
    await expect(page.getByRole('heading', { name: 'What the data cannot say' })).toBeVisible();
  });

  await test.step('a stretch of the timeline becomes a finding, by keyboard', async () => {
    await page.getByRole('link', { name: 'Timeline', exact: true }).press('Enter');
    await page.waitForURL(/\/timeline/);
    await selectByKeyboard(page, 40);
    await writeFinding(page, { title: FINDING, seen: 'The stretch says so.' });
    const lane = page.getByRole('img', { name: new RegExp(FINDING) });
    await expect(lane).toBeVisible();
    await page.reload();
    await expect(lane).toBeVisible();
    await page.goto(`${session}/findings`);
    await expect(page.getByRole('row', { name: new RegExp(FINDING) })).toBeVisible();
  });

  await test.step('one action drafts the debrief; a sentence is saved by itself', async () => {
    const version = await draftDebrief(page, session);
    await expect(debriefText(page)).toContainText(FINDING);
    await typeInDraft(page, 'end', ` ${SENTENCE}`);
    await savedAfter(page, version);
    await page.reload();
    await expect(debriefText(page)).toContainText(SENTENCE);
  });

  const published = await publishDraft(page);
  expect(published).toMatch(/\/1$/);
  await expect(page.getByRole('article')).toContainText(SENTENCE);
  await expect(page.getByRole('article')).toContainText('this is the first revision');
  const hash = await shownHash(page);
  expect(hash).toMatch(/^[0-9a-f]{64}$/);
  const frozen = await page.getByRole('article').textContent();

  await test.step('the quick look fits two pages and says that it is preliminary', async () => {
    await page.goto(`${session}/quick-look`);
    await expect(page.getByText(/^Preliminary\./)).toBeVisible();
    const alone = await context.newPage();
    await alone.goto(pathToFileURL(await download(page, /^Save as a page/)).href);
    const sheets = (await alone.pdf({ preferCSSPageSize: true })).toString('latin1');
    expect(sheets.match(/\/Type\s*\/Page\b/g)?.length).toBeLessThanOrEqual(2);
    await alone.close();
    await page.goto(published);
  });

  await test.step('what is downloaded is what was hashed', async () => {
    const record = await download(page, /^Record/);
    expect(sha256(readFileSync(record))).toBe(hash);
    const html = await download(page, /^Page/);
    const alone = await context.newPage();
    await alone.goto(pathToFileURL(html).href);
    await expect(alone.locator('#check')).toContainText(
      'Checked here: the embedded record matches this SHA-256',
    );
    await expect(alone.getByText(SENTENCE)).toBeVisible();
    await alone.close();
  });

  await test.step('the published page stays when the draft goes on', async () => {
    await page.goto(`${session}/debrief`);
    await page.getByRole('link', { name: 'Begin revision 2' }).click();
    const version = await savedAfter(page, 0);
    await typeInDraft(page, 'end', LATER);
    await savedAfter(page, version);
    await page.goto(published);
    expect(await page.getByRole('article').textContent()).toBe(frozen);
  });

  await test.step('a revision supersedes it and names it', async () => {
    await page.goto(`${session}/debrief?revise`);
    await expect(debriefText(page)).toContainText(LATER);
    expect(await publishDraft(page)).toBe(published.replace(/1$/, '2'));
    await expect(page.getByRole('article')).toContainText(LATER);
    await expect(page.getByRole('article')).toContainText(`revision 1, SHA-256 ${hash}`);
    expect(await shownHash(page)).not.toBe(hash);
    await addAxe(page);
    await page.goto(`${published.replace(/1$/, '2')}/changes`);
    await expect(page.getByRole('main')).toContainText(LATER);
    expect(await axeViolations(page, 'everything')).toEqual([]);
    await page.goto(published);
    await expect(page.getByText('This revision is superseded.')).toBeVisible();
    expect(await shownHash(page)).toBe(hash);
    expect(sha256(readFileSync(await download(page, /^Record/)))).toBe(hash);
  });
  expect(complaints.take()).toEqual([]);
});
