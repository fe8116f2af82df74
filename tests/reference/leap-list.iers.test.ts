import { createHash } from 'node:crypto';
import { expect, test } from 'vitest';
import { BUILT_IN_LEAP_TABLE } from '@/lib/core/time/leap-table';
import { readLeapList } from '@/lib/core/time/read-leap-list';

/**
 * Source: IERS, `leap-seconds.list`, updated 8 July 2025 (NTP 3960835200), expiring 28 June 2026,
 * as carried by the tz database; in the public domain. Its line #h is quoted.
 */
const UPDATED = 3960835200;
const EXPIRES = 3991593600;
const HASH = '49db2447 571e5e1b 2f002a53 9c8da8e4 39b8e49e';
const PAIRS = [
  [2272060800, 10],
  [2287785600, 11],
  [2303683200, 12],
  [2335219200, 13],
  [2366755200, 14],
  [2398291200, 15],
  [2429913600, 16],
  [2461449600, 17],
  [2492985600, 18],
  [2524521600, 19],
  [2571782400, 20],
  [2603318400, 21],
  [2634854400, 22],
  [2698012800, 23],
  [2776982400, 24],
  [2840140800, 25],
  [2871676800, 26],
  [2918937600, 27],
  [2950473600, 28],
  [2982009600, 29],
  [3029443200, 30],
  [3076704000, 31],
  [3124137600, 32],
  [3345062400, 33],
  [3439756800, 34],
  [3550089600, 35],
  [3644697600, 36],
  [3692217600, 37],
];

const sha1 = (text: string): string => createHash('sha1').update(text).digest('hex');

function listText(pairs: readonly (readonly number[])[]): string {
  const rows = pairs.map(([ntpS, offsetS]) => `${ntpS}      ${offsetS}      # remark`);
  return [`#$\t${UPDATED}`, '#', `#@\t${EXPIRES}`, ...rows, `#h\t${HASH}`, ''].join('\n');
}

test('the list of July 2025 fits its hash and holds the entries of the built-in table', () => {
  const { issues } = readLeapList(listText(PAIRS), 'leap-seconds.list', sha1);
  // Right in everything but its age: the built-in table reaches a year further.
  expect(issues.map(({ code }) => code)).toEqual(['leap-list-old']);
  expect(
    PAIRS.map(([ntpS = 0, taiMinusUtcS]) => [(ntpS - 2_208_988_800) / 86_400, taiMinusUtcS]),
  ).toEqual(BUILT_IN_LEAP_TABLE.entries.map(({ day, taiMinusUtcS }) => [day, taiMinusUtcS]));
});

test('one digit changed does not fit the hash', () => {
  const changed = PAIRS.map(([ntpS, offsetS]) => [ntpS ?? 0, offsetS === 37 ? 38 : (offsetS ?? 0)]);
  const { value, issues } = readLeapList(listText(changed), 'leap-seconds.list', sha1);
  expect(value).toBeNull();
  expect(issues.map(({ code }) => code)).toEqual(['leap-list-hash']);
});
