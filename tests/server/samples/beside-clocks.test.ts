/** Files of one channel each, and long files with one channel under the other, by clocks that begin again. */
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import { importTelemetry } from '@/lib/server/samples/import-telemetry';
import { readTelemetrySource } from '@/lib/server/samples/read-telemetry';
import { instantOf, sourceOnDisk, telemetrySpec } from '../../support/telemetry-spec';

const MIDNIGHT = instantOf('2025-03-04T00:00:00Z');
const LONG = { layout: 'long', nameColumn: 'name', valueColumn: 'value' } as const;

async function importFiles(
  files: Readonly<Record<string, string>>,
  code: TelemetrySpec['time']['code'],
  change: Partial<TelemetrySpec> = {},
) {
  const disk = sourceOnDisk('', 'unused');
  const parts = Object.entries(files).map(([name, text]) => {
    const file = path.join(disk.folder, name);
    writeFileSync(file, text);
    return { name, file };
  });
  const time = { columns: ['t'], code, scale: 'UTC', from: MIDNIGHT } as const;
  const spec = telemetrySpec({ file: '*.csv', files: ['*.csv'], time, ...change });
  const { samplesRoot } = disk;
  const outcome = await importTelemetry({ parts, spec, zero: MIDNIGHT, samplesRoot });
  const source =
    outcome.folder === null ? null : await readTelemetrySource(samplesRoot, outcome.folder, spec);
  return { tS: Array.from(source?.tS ?? []), issues: outcome.issues };
}

const table = (name: string, stamps: readonly (string | number)[]) =>
  [`t,${name}`, ...stamps.map((stamp) => `${stamp},1`), ''].join('\n');
const longTable = (rows: readonly (readonly [string | number, string])[]) =>
  ['t,name,value', ...rows.map(([stamp, name]) => `${stamp},${name},1`), ''].join('\n');

/** Seconds after 00:00:00 of the first day are counted by hand throughout. */
test('files of a day that start at the same time of day are no row out of order', async () => {
  const stamps = ['08:00:00', '13:00:00', '18:00:00'];
  const files = { 'a.csv': table('a', stamps), 'b.csv': table('b', stamps) };
  const { tS, issues } = await importFiles(files, 'elapsed-dhms');
  expect(tS).toEqual([28_800, 46_800, 64_800]);
  expect(issues).toEqual([]);
});

test.each([
  ['elapsed-seconds', [86_398, 86_399, 0, 1, 2, 3, 4], [86_390, 86_391], [2, 3]],
  [
    'elapsed-dhms',
    ['23:59:58', '23:59:59', '00:00:00', '00:00:01', '00:00:02', '00:00:03', '00:00:04'],
    ['23:59:50', '23:59:51'],
    ['00:00:02', '00:00:03'],
  ],
] as const)('the midnight of one file is that of all: %s', async (code, over, before, after) => {
  const overS = [0, 1, 2, 3, 4, 5, 6].map((second) => 86_398 + second);
  const same = { 'a.csv': table('a', over), 'b.csv': table('b', over) };
  expect((await importFiles(same, code)).tS).toEqual(overS);
  const early = { 'a.csv': table('a', over), 'b.csv': table('b', before) };
  expect((await importFiles(early, code)).tS).toEqual([86_390, 86_391, ...overS]);
  const late = { 'a.csv': table('a', after), 'b.csv': table('b', over) };
  expect((await importFiles(late, code)).tS).toEqual(overS);
});

test('a count of one a second through a leap second is carried by channel, and only there', async () => {
  const from = instantOf('2017-01-01T00:00:00Z');
  const time = { columns: ['t'], code: 'unix-seconds', scale: 'UTC', from } as const;
  const stamps = [1_483_228_798, 1_483_228_799, 1_483_228_800, 1_483_228_800, 1_483_228_801];
  const leapS = (tS: readonly number[]) => tS.map((stampS) => stampS - (tS[0] ?? 0));
  const under = ['a', 'b'].flatMap((name) => stamps.map((stamp) => [stamp, name] as const));
  const one = await importFiles({ 'l.csv': longTable(under) }, time.code, { ...LONG, time });
  expect(leapS(one.tS)).toEqual([0, 1, 2, 3, 4]);
  const pairs = [...new Set(stamps)].flatMap((stamp) => [
    [stamp, 'a'] as const,
    [stamp, 'b'] as const,
  ]);
  const two = await importFiles({ 'l.csv': longTable(pairs) }, time.code, { ...LONG, time });
  expect(leapS(two.tS)).toEqual([0, 1, 3, 4]);
  expect(two.issues.map(({ code }) => code)).not.toContain('leap-second-repeated');
});
