import { expect, test } from 'vitest';
import type { SessionDescription } from '@/lib/core/intake/proposal/session-proposal';
import { openDescriptionRows } from '@/lib/view/describe-view';
import { readKept } from '@/lib/view/kept-description';

const PROPOSED: SessionDescription = {
  title: '',
  kind: 'flight',
  zero: '',
  files: [
    {
      file: 'nav.csv',
      use: 'telemetry',
      time: { columns: ['t'], code: 'elapsed-seconds', scale: 'UTC', from: null, dateOrder: null },
      ownTimes: false,
      layout: 'wide',
      nameColumn: null,
      valueColumn: null,
      channels: [{ column: 'px', as: null, unit: null, sign: 1 }],
      clock: 'own',
      stamping: { stamp: null, latency: '', available: null },
    },
  ],
};
const TYPED = { ...PROPOSED, title: 'Second try', zero: '2031-03-02T10:00:00Z' };

test('what was typed comes back for the same files', () => {
  expect(readKept(JSON.stringify(TYPED), PROPOSED)).toEqual(TYPED);
});

const [nav] = PROPOSED.files;
test.each([
  ['nothing', null],
  ['cut text', '{"title":"Sec'],
  ['other files', JSON.stringify({ ...TYPED, files: [{ ...nav, file: 'other.csv' }] })],
  ['a file more', JSON.stringify({ ...TYPED, files: [nav, nav] })],
  ['other columns', JSON.stringify({ ...TYPED, files: [{ ...nav, channels: [] }] })],
  ['a title that is no text', JSON.stringify({ ...TYPED, title: 3 })],
  ['no times', JSON.stringify({ ...TYPED, files: [{ ...nav, time: {} }] })],
])('%s is not taken for it', (_, text) => {
  expect(readKept(text, PROPOSED)).toBeNull();
});

test('files that wait are a line each, with the way to them', () => {
  const files = ['a.csv', 'b.csv', 'c.csv', 'd.csv'];
  expect(
    openDescriptionRows([{ uploadId: 'u1', files, askedAtIso: '2031-03-02T10:00:00.000Z' }]),
  ).toMatchObject([
    {
      href: '/import/describe/u1',
      files: 'a.csv, b.csv, c.csv and 1 more',
      sent: expect.stringContaining('4 files, sent 2'),
    },
  ]);
});
