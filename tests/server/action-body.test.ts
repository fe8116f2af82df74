/** Source of multipart/form-data: RFC 7578, section 4.1 (boundary), 4.2 (a name for each part). */
import { expect, test } from 'vitest';
import { rejectActionBody } from '@/lib/server/action-body';

const ADDRESS = 'http://localhost/sessions/x/sources';

function posted(body: BodyInit, type: string | null, isAction = true): Request {
  const headers = new Headers(isAction ? { 'next-action': 'a1' } : {});
  if (type !== null) headers.set('content-type', type);
  return new Request(ADDRESS, { method: 'POST', body, headers });
}

function part(name: string, text: string): string {
  return `--b\r\nContent-Disposition: form-data; name="${name}"\r\n\r\n${text}\r\n--b--\r\n`;
}
const FORM = 'multipart/form-data; boundary=b';

test.each([
  ['arguments as text', posted('["a",{"b":1}]', 'text/plain;charset=UTF-8')],
  ['arguments with a form', posted(part('0', '["$K1"]'), FORM)],
  ['a form without script', posted(part('title', 'x'), FORM, false)],
  ['an upload, which is no action', posted('PK..', 'application/zip', false)],
  ['a page that is asked for', new Request(ADDRESS, { headers: { 'next-action': 'a1' } })],
])('%s passes', async (_, request) => {
  expect(await rejectActionBody(request)).toBeNull();
});

test.each([
  ['no JSON', posted('{{{', 'text/plain')],
  ['nothing', posted('', 'text/plain')],
  ['100,000 open brackets', posted('['.repeat(100_000), 'text/plain')],
  ['a form without a boundary', posted('x', 'multipart/form-data')],
  ['a form that is none', posted('garbage', FORM)],
  ['a form without the arguments', posted(part('1', 'x'), FORM)],
  ['arguments that are no JSON', posted(part('0', '$$'), FORM)],
  ['another type', posted('[]', 'application/json')],
  ['a form that is none and no action', posted('garbage', FORM, false)],
])('%s is refused', async (_, request) => {
  expect((await rejectActionBody(request))?.status).toBe(400);
});

test('more than the framework takes is refused unread', async () => {
  const request = posted('[]', 'text/plain');
  request.headers.set('content-length', '2000000');
  expect((await rejectActionBody(request))?.status).toBe(413);
  expect(request.bodyUsed).toBe(false);
});
