import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { inputsText } from '@/lib/core/reconstruction/inputs-text';
import { formatInstant } from '@/lib/core/time/format';
import { leapSecondIssue } from '@/lib/core/time/leap-seconds';
import { BUILT_IN_LEAP_TABLE, leapTable, setLeapTable } from '@/lib/core/time/leap-table';
import { parseInstant } from '@/lib/core/time/parse';
import { adoptLeapList } from '@/lib/server/leap-list';
import { sourceFolderName } from '@/lib/server/samples/folder-name';
import { sessionOf } from '../support/flown-session';
import { telemetrySpec, ZERO } from '../support/telemetry-spec';

const data = { dir: '' };
beforeEach(() => {
  data.dir = mkdtempSync(path.join(os.tmpdir(), 'wakeline-leap-'));
});
afterEach(() => {
  rmSync(data.dir, { recursive: true, force: true });
  setLeapTable(BUILT_IN_LEAP_TABLE);
});

type Pair = readonly [day: number, taiMinusUtcS: number];

const KNOWN = BUILT_IN_LEAP_TABLE.entries.map(({ day, taiMinusUtcS }): Pair => [day, taiMinusUtcS]);
const DAY_2028 = Date.UTC(2028, 0, 1) / 86_400_000;
const DAY_2029 = Date.UTC(2029, 5, 28) / 86_400_000;

/** An invented list with its right hash. */
function writeList(pairs: readonly Pair[], expiresDay: number): void {
  const ntp = (day: number): number => day * 86_400 + 2_208_988_800;
  const rows = pairs.map(([day, offsetS]) => [ntp(day), offsetS]);
  const digits = `${ntp(DAY_2028 - 200)}${ntp(expiresDay)}${rows.flat().join('')}`;
  const hash = createHash('sha1').update(digits).digest('hex').match(/.{8}/g)?.join(' ');
  const head = `#\tInvented\n#$\t${ntp(DAY_2028 - 200)}\n#@\t${ntp(expiresDay)}\n`;
  const body = rows.map((row) => row.join('\t')).join('\n');
  writeFileSync(path.join(data.dir, 'leap-seconds.list'), `${head}${body}\n#h\t${hash}\n`);
}

test('without a list nothing is said and the built-in table stays', () => {
  expect(adoptLeapList(data.dir)).toBeNull();
  expect(leapTable()).toBe(BUILT_IN_LEAP_TABLE);
});

test('a newer list is used in and out, and in the names and hashes of what is made with it', () => {
  const names = (): readonly string[] => [
    sourceFolderName('a'.repeat(64), telemetrySpec(), ZERO),
    inputsText(sessionOf([], null), 'engine'),
  ];
  const before = names();
  expect(parseInstant('2027-12-31T12:00:60Z', 'UTC')).toBeNull();
  writeList([...KNOWN, [DAY_2028, 38]], DAY_2029);
  expect(adoptLeapList(data.dir)).toEqual({
    isUsed: true,
    sentence:
      'leap-seconds.list is used: 29 entries, TAI - UTC 38 s at the end, valid until 28 June 2029',
  });
  const last = parseInstant('2027-12-31T23:59:60Z', 'UTC');
  const next = parseInstant('2028-01-01T00:00:00Z', 'UTC');
  expect((next?.taiNs ?? 0n) - (last?.taiNs ?? 0n)).toBe(1_000_000_000n);
  if (last === null || next === null) throw new Error('both are instants');
  expect(formatInstant(last, 'UTC', { decimals: 0 })).toBe('2027-12-31T23:59:60Z');
  expect(leapSecondIssue(next)).toBeNull();
  names().forEach((name, at) => {
    expect(name).not.toBe(before[at]);
  });
});

test.each([
  ['an older one', KNOWN, BUILT_IN_LEAP_TABLE.expiresDay, /no newer than the built-in table/],
  [
    'one that lacks an entry',
    KNOWN.slice(0, -1),
    DAY_2029,
    /must hold TAI - UTC = 37 s from 1 January 2017 on/,
  ],
  ['one that jumps', [...KNOWN, [DAY_2028, 39] as const], DAY_2029, /:32: days must ascend/],
  [
    'one of another day',
    [...KNOWN, [DAY_2028 + 1, 38] as const],
    DAY_2029,
    /:32: a leap second takes effect/,
  ],
])('%s gets one line and the built-in table stays', (_, pairs, expiresDay, sentence) => {
  writeList(pairs, expiresDay);
  const said = adoptLeapList(data.dir);
  expect(said?.isUsed).toBe(false);
  expect(said?.sentence).toMatch(sentence);
  expect(said?.sentence).toMatch(/^leap-seconds\.list.*; the built-in leap-second table is used$/);
  expect(leapTable()).toBe(BUILT_IN_LEAP_TABLE);
});

test.each([
  ['', /is empty/],
  ['#$\t1\nhello\n', /:2: is no remark/],
  ['#$\t1\n#@\t2\n3\t10\n', /no line #h/],
  ['#$\t1\n#@\tnever\n', /no line #@/],
])('a list that is none is refused: %j', (text, sentence) => {
  writeFileSync(path.join(data.dir, 'leap-seconds.list'), text);
  expect(adoptLeapList(data.dir)?.sentence).toMatch(sentence);
});
