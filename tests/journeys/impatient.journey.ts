/**
 * What an impatient new user does: wrong addresses, wrong files, back and forward, reload in
 * mid-import, the same file twice, two tabs at once, the server stopped and killed under it.
 */
import { readdirSync } from 'node:fs';
import path from 'node:path';
import type { Page } from '@playwright/test';
import { zipSync } from 'fflate';
import { demoSession } from './demo-session';
import { expect, test } from './journey';
import {
  chooseFiles,
  chooseFolder,
  debriefText,
  draftDebrief,
  openDescription,
  openImported,
  savedAfter,
  selectByKeyboard,
  typeInDraft,
  writeFinding,
} from './screens';
import { makeSessionFolders, type SessionFolders } from './session-folders';

let folders: SessionFolders;
test.beforeAll(() => {
  folders = makeSessionFolders();
});
test.afterAll(() => folders.remove());

const STACK = /\n\s+at |node_modules|\.tsx?:\d|\.mjs:\d/;

test('garbage in the address is answered by a plain page, never by a fault', async ({
  page,
  request,
  complaints,
}) => {
  const session = await demoSession(page);
  const garbage = [
    '/sessions/nobody',
    '/sessions/..%2f..%2fetc%2fpasswd',
    '/sessions/%00',
    '/sessions/%ff%fe',
    `/sessions/${'9'.repeat(3_000)}`,
    '/sessions/nobody/timeline',
    `${session}/no-such-tab`,
    `${session}/timeline/..%2f..%2f..%2fwakeline.db`,
    '/import/nobody',
    '/import/%00',
    '/import/jobs/nobody/events',
    '/published/999999999999999999999999',
    '/published/-1',
    '/published/1e3/1',
    '/published/1/99',
    '/published/1/1/..%2f..%2f..%2fwakeline.db',
    '/published/1/1/session.yaml',
    '/%00',
  ];
  for (const address of garbage) {
    const answer = await request.get(address);
    expect
      .soft([400, 404], `${address.slice(0, 80)} answers ${answer.status()}`)
      .toContain(answer.status());
    expect
      .soft(STACK.test(await answer.text()), `${address.slice(0, 80)} shows a stack`)
      .toBe(false);
  }
  await page.goto('/sessions/nobody/rules');
  await expect(page.getByRole('heading', { level: 1 })).toHaveText(
    'Nothing is kept at this address',
  );
  const odd = '?from=NaN&to=-1e999&strip=%00&finding=..&kind=%3Cscript%3E&severity=&from=1';
  for (const tab of ['', '/timeline', '/findings', '/rules', '/phases', '/sources']) {
    const answer = await page.goto(`${session}${tab}${odd}`);
    expect.soft(answer?.status(), `${tab}${odd}`).toBe(200);
    await expect.soft(page.getByRole('heading', { level: 1 })).toHaveCount(1);
  }
  for (const query of ['', '?from=a&to=b&pixels=-1', '?from=0&to=1e9&pixels=1e12&c=../x']) {
    for (const route of ['envelope', 'rows', 'stretch']) {
      const answer = await request.get(`${session}/timeline/${route}${query}`);
      expect.soft(answer.status(), `${route}${query}`).toBeLessThan(500);
    }
  }
  expect(complaints.take()).toEqual([]);
});

test('back and forward keep their place', async ({ page, complaints }) => {
  const session = await demoSession(page);
  const tabs = page.getByRole('navigation', { name: 'This session' });
  await page.goto(session);
  for (const tab of ['Timeline', 'Rules', 'Findings', 'Sources']) {
    await tabs.getByRole('link', { name: tab, exact: true }).click();
    await page.waitForURL(new RegExp(`/${tab.toLowerCase()}`));
  }
  for (const tab of ['findings', 'rules', 'timeline']) {
    await page.goBack();
    await page.waitForURL(new RegExp(`/${tab}`));
    await expect(page.getByRole('heading', { level: 1 })).toContainText(new RegExp(tab, 'i'));
  }
  await selectByKeyboard(page, 10);
  await expect(page).toHaveURL(/timeline\?.*=/);
  const selected = page.url();
  await page.goForward();
  await page.waitForURL(/\/rules/);
  await page.goBack();
  await expect(page).toHaveURL(selected);
  await expect(page.getByRole('button', { name: 'Let it go' })).toBeVisible();
  await page.reload();
  await expect(page.getByRole('button', { name: 'Let it go' })).toBeVisible();
  expect(complaints.take()).toEqual([]);
});

test('wrong files are named with what is wrong, and leave nothing behind', async ({
  page,
  wakeline,
  complaints,
}) => {
  const brief = folders.brief('Never imported');
  const yaml = path.join(brief, 'session.yaml');
  const telemetry = path.join(brief, 'telemetry.csv');
  const encoder = new TextEncoder();
  const wrong: readonly (readonly [name: string, files: readonly string[], said: RegExp])[] = [
    ['a PDF', [folders.file('report.pdf', '%PDF-1.7\n%âãÏÓ\n1 0 obj\n')], /is a PDF/],
    ['an empty archive', [folders.file('empty.zip', zipSync({}))], /empty|session\.yaml|no file/i],
    ['a torn archive', [folders.file('torn.zip', 'PK\u0003\u0004 and then nothing')], /torn\.zip/],
    [
      'broken YAML',
      [folders.file('session.yaml', 'title: [never closed\nkind: flight\n')],
      /session\.yaml/,
    ],
    ['session.yaml without its telemetry', [yaml], /telemetry\.csv/],
    [
      'an archive that climbs out',
      [folders.file('climb.zip', zipSync({ '../../escape.yaml': encoder.encode('title: x') }))],
      /climb\.zip|escape\.yaml/,
    ],
  ];
  for (const [name, files, said] of wrong) {
    await chooseFiles(page, [...files]);
    await expect(page.getByRole('heading', { name: 'not imported' })).toBeVisible();
    const main = (await page.getByRole('main').textContent()) ?? '';
    expect.soft(main, name).toMatch(said);
    expect.soft(STACK.test(main), `${name}: ${main}`).toBe(false);
    expect.soft(main, name).not.toMatch(/unexpectedly/);
  }

  await chooseFiles(page, [telemetry]);
  await openDescription(page);
  await expect(page.getByText('the session has no title')).toBeVisible();
  await page.getByRole('button', { name: 'Discard these files' }).click();
  await page.waitForURL(/\/import$/);
  expect(readdirSync(path.join(wakeline.dataDir, 'uploads'))).toEqual([]);
  await page.goto('/');
  await expect(page.getByRole('link', { name: 'Never imported' })).toHaveCount(0);
  expect(complaints.take()).toEqual([]);
});

test('a reload in mid-import finds it again, and it finishes once', async ({
  page,
  wakeline,
  complaints,
}) => {
  await demoSession(page);
  const title = 'Reloaded flight';
  const folder = folders.brief(title);
  const halted = wakeline.haltImport();
  await chooseFolder(page, folder);
  const address = page.url();
  const goOn = await halted;
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Importing a session');
  await page.reload();
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Importing a session');
  await page.goto('/');
  await page.getByRole('link', { name: 'Importing a session' }).click();
  await expect(page).toHaveURL(address);
  goOn();
  const session = await openImported(page);
  await page.goto('/');
  await expect(page.getByRole('link', { name: title })).toHaveCount(1);

  await chooseFolder(page, folder);
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Already imported');
  expect(await openImported(page)).toBe(session);
  await page.goto('/');
  await expect(page.getByRole('link', { name: title })).toHaveCount(1);
  expect(complaints.take()).toEqual([]);
});

test('a cancelled import leaves nothing behind', async ({ page, wakeline, complaints }) => {
  const title = 'Cancelled flight';
  const samples = path.join(wakeline.dataDir, 'samples');
  await demoSession(page);
  const before = readdirSync(samples).sort();
  const halted = wakeline.haltImport();
  await chooseFolder(page, folders.brief(title));
  await halted;
  await page.getByRole('button', { name: 'Cancel the import' }).click();
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('The import was cancelled');
  await expect(page.getByText(/Nothing was kept/)).toBeVisible();
  await expect.poll(() => readdirSync(samples).sort()).toEqual(before);
  expect(readdirSync(path.join(wakeline.dataDir, 'uploads'))).toEqual([]);
  await page.goto('/');
  await expect(page.getByRole('link', { name: title })).toHaveCount(0);
  expect(complaints.take()).toEqual([]);
});

/** Answers to what this page saves wait until they are let go. */
async function holdAnswers(page: Page): Promise<() => void> {
  let letGo = (): void => undefined;
  const gate = new Promise<void>((resolve) => {
    letGo = resolve;
  });
  const saves = (url: URL): boolean => url.pathname.endsWith('/timeline');
  await page.route(saves, async (route) => {
    if (route.request().method() !== 'POST') return route.fallback();
    const response = await route.fetch();
    await gate;
    await route.fulfill({ response });
  });
  return letGo;
}

test('two tabs on one finding: the second is told, reads both, and loses nothing', async ({
  page,
  context,
  complaints,
}) => {
  await chooseFolder(page, folders.brief('Two tabs'));
  const session = await openImported(page);
  await page.goto(`${session}/timeline`);
  await selectByKeyboard(page, 20);
  await writeFinding(page, { title: 'Seen by two', seen: 'As first written.' });
  const sheet = page.getByRole('complementary', { name: 'Finding 1' });
  const other = await context.newPage();
  await other.goto(`${session}/findings/1?edit`);

  await sheet.getByLabel('What was seen').fill('What the first tab says.');
  const letAnswer = await holdAnswers(page);
  await sheet.getByRole('button', { name: 'Save the changes' }).click();
  await sheet.getByLabel('What was seen').fill('What the first tab adds.');
  letAnswer();
  await expect(sheet.getByRole('button', { name: 'Save the changes' })).toBeEnabled();
  await other.getByLabel('What was seen').fill('What the second tab says.');
  await other.getByRole('button', { name: 'Save', exact: true }).click();
  await expect(other.getByText('Nothing of yours is lost')).toBeVisible();
  await expect(other.getByText('What the first tab says.')).toBeVisible();
  await expect(other.getByLabel('What was seen')).toHaveValue('What the second tab says.');
  await other.getByRole('button', { name: 'Save mine over theirs' }).click();
  await other.waitForURL(/\/findings\/1$/);

  await page.reload();
  await page.locator('[data-bar]').filter({ hasText: /^1 / }).first().click();
  await expect(sheet.getByLabel('What was seen')).toHaveValue('What the first tab adds.');
  await sheet.getByRole('button', { name: 'Save the changes' }).click();
  await expect(sheet.getByRole('alert')).toContainText('What the second tab says.');
  await expect(sheet.getByLabel('What was seen')).toHaveValue('What the first tab adds.');
  await sheet.getByRole('button', { name: /save mine over it/ }).click();
  await sheet.getByRole('button', { name: 'Save the changes' }).click();
  await expect(sheet.getByRole('alert')).toHaveCount(0);
  await expect(async () => {
    await other.reload();
    await expect(other.getByText('What the first tab adds.')).toBeVisible({ timeout: 1_000 });
  }).toPass();
  expect(complaints.take()).toEqual([]);
});

test('two tabs on one draft: different parts are put together, the same part is asked about', async ({
  page,
  context,
  complaints,
}) => {
  await chooseFolder(page, folders.brief('Two drafts'));
  const session = await openImported(page);
  const version = await draftDebrief(page, session);
  const other = await context.newPage();
  await other.goto(`${session}/debrief`);
  await savedAfter(other, 0);
  await typeInDraft(page, 'start', ' By the first tab.');
  await savedAfter(page, version);
  await typeInDraft(other, 'end', ' By the second tab.');
  const merged = await savedAfter(other, version);
  await expect(debriefText(other)).toContainText('By the first tab.');

  await page.reload();
  await expect(debriefText(page)).toContainText('By the second tab.');
  await typeInDraft(page, 'end', ' The first adds this.');
  await savedAfter(page, merged);
  await typeInDraft(other, 'end', ' The second adds that.');
  const panel = other.getByRole('region', { name: 'Changed elsewhere' });
  await expect(panel).toContainText('The first adds this.');
  await expect(panel).toContainText('The second adds that.');
  for (const mine of await panel.getByLabel('Yours').all()) await mine.check();
  await panel.getByRole('button', { name: 'Go on with this' }).click();
  await savedAfter(other, merged + 1);
  await page.reload();
  await expect(debriefText(page)).toContainText('The second adds that.');
  await expect(debriefText(page)).toContainText('By the first tab.');
  expect(complaints.take()).toEqual([]);
});

test('stopped and killed under an import, it starts again, says what it mended, shows nothing half', async ({
  page,
  wakeline,
}) => {
  test.setTimeout(120_000);
  const session = await demoSession(page);
  for (const signal of ['SIGTERM', 'SIGKILL'] as const) {
    const title = `Flight ended by ${signal}`;
    const folder = folders.brief(title);
    const halted = wakeline.haltImport();
    await chooseFolder(page, folder);
    const job = page.url();
    await halted;
    await wakeline.stop(signal);
    await expect(page.getByText(/does not answer at the moment/)).toBeVisible();
    await wakeline.start();
    expect(wakeline.output()).toContain('mended');
    expect(wakeline.output()).toContain('work marked as broken off');
    await page.goto(job);
    await expect(page.getByText('The program stopped during this work')).toBeVisible();
    await page.goto('/');
    await expect(page.getByRole('link', { name: title })).toHaveCount(0);
    await expect(page.getByRole('row', { name: /invented demo/ })).toHaveCount(2);
    expect(readdirSync(path.join(wakeline.dataDir, 'uploads'))).toEqual([]);
    const answer = await page.goto(session);
    expect(answer?.status()).toBe(200);
  }
  await chooseFolder(page, folders.brief('Flight after the stops'));
  await openImported(page);
});
