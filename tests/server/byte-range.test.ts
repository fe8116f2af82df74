import { expect, test } from 'vitest';
import { rangeAnswer } from '@/lib/server/byte-range';

const asked = (range: string | null, ifRange: string | null = null, bytes = 10_000) =>
  rangeAnswer({ range, ifRange, etag: '"abc"', bytes });

/**
 * Source: RFC 9110, 14.1.2: "The first 500 bytes", "the second 500 bytes", "the final 500 bytes" of 10,000 by
 * both forms, "the first and last bytes only"; 14.2: a range of another unit is ignored; 15.5.17: none of the
 * ranges overlaps the file.
 */
test.each([
  ['bytes=0-499', { from: 0, to: 499 }],
  ['bytes=500-999', { from: 500, to: 999 }],
  ['bytes=-500', { from: 9500, to: 9999 }],
  ['bytes=9500-', { from: 9500, to: 9999 }],
  ['bytes=9500-20000', { from: 9500, to: 9999 }],
  ['bytes=-20000', { from: 0, to: 9999 }],
  ['bytes=10000-', 'unsatisfiable'],
  ['bytes=-0', 'unsatisfiable'],
  ['bytes=0-0,-1', 'whole'],
  ['bytes=9-3', 'whole'],
  ['lines=0-3', 'whole'],
  ['bytes=', 'whole'],
  [null, 'whole'],
])('%s of 10,000 bytes: %j', (range, answer) => {
  expect(asked(range)).toEqual(answer);
});

/** Source: RFC 9110, 13.1.5: the range counts only where the validator is the same, compared strongly. */
test.each([
  ['"abc"', { from: 0, to: 9 }],
  ['"other"', 'whole'],
  ['W/"abc"', 'whole'],
  ['Sat, 29 Oct 1994 19:43:31 GMT', 'whole'],
])('If-Range %s: %j', (ifRange, answer) => {
  expect(asked('bytes=0-9', ifRange)).toEqual(answer);
});
