import { expect, test } from 'vitest';
import { rejectRequest } from '@/lib/server/request-guard';

const APP_URL = 'http://127.0.0.1:3000';
const facts = { method: 'GET', host: '127.0.0.1:3000', origin: null, fetchSite: null };

test.each(['127.0.0.1:3000', 'localhost:3000', '[::1]:3000', 'localhost'])(
  'the server answers for %s',
  (host) => {
    expect(rejectRequest({ ...facts, host }, APP_URL)).toBeNull();
  },
);

test.each(['rebind.example:3000', '127.0.0.1.example', '10.0.0.7:3000', '', 'a b'])(
  'a name that only points here, "%s", is turned away',
  (host) => {
    expect(rejectRequest({ ...facts, host }, APP_URL)?.status).toBe(421);
  },
);

test('the public address is answered for where it is set', () => {
  const host = 'review.example';
  expect(rejectRequest({ ...facts, host }, 'https://review.example')).toBeNull();
});

test.each([
  { origin: 'https://elsewhere.example' },
  { origin: 'http://127.0.0.1:4000' },
  { origin: 'null' },
  { fetchSite: 'cross-site' },
  { fetchSite: 'same-site', origin: 'http://127.0.0.1:3000' },
])('a post from another page is turned away: %o', (from) => {
  expect(rejectRequest({ ...facts, method: 'POST', ...from }, APP_URL)?.status).toBe(403);
});

test('a post from a page of this address and one from a program pass', () => {
  const own = { origin: 'http://127.0.0.1:3000', fetchSite: 'same-origin' };
  expect(rejectRequest({ ...facts, method: 'POST', ...own }, APP_URL)).toBeNull();
  expect(rejectRequest({ ...facts, method: 'DELETE' }, APP_URL)).toBeNull();
});
