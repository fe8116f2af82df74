/** The upload route as a browser, a stranger and a broken program meet it. */
import { readdirSync } from 'node:fs';
import { beforeEach, expect, test } from 'vitest';
import { DELETE, POST } from '@/app/import/upload/route';
import { startImport } from '@/lib/server/commands/start-import';
import { uploadsRoot } from '@/lib/server/data-folders';
import { runCommand } from '@/lib/server/run-command';
import { freshDataDir } from '../support/data-dir';

freshDataDir();
beforeEach(() => {
  delete process.env.APP_URL;
});

const OWN = { host: '127.0.0.1:3000', origin: 'http://127.0.0.1:3000' };

function ask(query: string, headers: Readonly<Record<string, string>> = OWN, body = 't,x\n1,2\n') {
  const url = `http://127.0.0.1:3000/import/upload?${query}`;
  return POST(new Request(url, { method: 'POST', headers, body }));
}

const forget = (uploadId: string) =>
  DELETE(
    new Request(`http://127.0.0.1:3000/import/upload?upload=${uploadId}`, {
      method: 'DELETE',
      headers: OWN,
    }),
  );

test.each([
  ['another origin', { ...OWN, origin: 'http://elsewhere.example' }, 403],
  ['no origin at all, as sandboxed pages say', { ...OWN, origin: 'null' }, 403],
  ['another site', { ...OWN, 'sec-fetch-site': 'cross-site' }, 403],
  ['a name that was pointed here', { ...OWN, host: 'rebound.example' }, 421],
] as const)(
  'a request from %s is turned away and nothing is written',
  async (_who, headers, status) => {
    const response = await ask('name=a.csv', headers);
    expect(response.status).toBe(status);
    expect(await response.json()).toMatchObject({ code: 'not-from-here' });
    expect(() => readdirSync(uploadsRoot())).toThrow('ENOENT');
  },
);

test.each([
  '',
  'name=',
  'name=..',
  'name=%00',
  'name=C%3A%5Cx',
  'name=a%2F..%2F..%2Fb',
  'name=%E2%80%AEx',
])('the name in "%s" is refused in one sentence', async (query) => {
  const response = await ask(query);
  expect(response.status).toBe(400);
  expect((await response.json()).message).toMatch(/ is no plain file name: .*\.$/);
});

test.each(['..', 'x', '..%2F..%2Fetc', 'A'.repeat(16), '0'.repeat(15)])(
  'the upload "%s" is none',
  async (upload) => {
    expect((await ask(`name=a.csv&upload=${upload}`)).status).toBe(400);
    expect((await forget(upload)).status).toBe(400);
  },
);

test('what announces more than fits is refused before it is read', async () => {
  const response = await ask('name=a.csv', { ...OWN, 'content-length': `${9 * 1024 ** 3}` });
  expect(response.status).toBe(413);
  expect(await response.json()).toMatchObject({ message: '"a.csv" is larger than 8 GiB.' });
});

test('an upload that is being imported can be neither added to nor forgotten', async () => {
  const { uploadId } = await (await ask('name=session.yaml')).json();
  const started = await Promise.all([1, 2, 3].map(() => runCommand(startImport, { uploadId })));
  const jobs = started.map((result) => (result.ok ? result.data.jobId : result.code));
  expect(new Set(jobs).size).toBe(1);
  for (const response of [await forget(uploadId), await ask(`name=b.csv&upload=${uploadId}`)]) {
    expect(response.status).toBe(409);
    expect(await response.json()).toMatchObject({ code: 'upload-in-use' });
  }
  expect(readdirSync(`${uploadsRoot()}/${uploadId}/files`)).toEqual(['session.yaml']);
});
