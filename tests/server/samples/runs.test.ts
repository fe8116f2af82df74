import { mkdtempSync, readdirSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { gzipSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { importRuns } from '@/lib/server/samples/import-runs';
import { readRuns } from '@/lib/server/samples/read-runs';
import { channelSpec, telemetrySpec, ZERO } from '../../support/telemetry-spec';

const spec = telemetrySpec({
  file: 'sim/*.csv',
  channels: [channelSpec('a', { unit: 'km', toSi: 1000 }), channelSpec('b')],
});

function runText(
  number: number,
  rows = 4,
  change: (row: string, index: number) => string = (r) => r,
) {
  const lines = Array.from({ length: rows }, (_, row) =>
    change(`${row / 2},${number + row / 10},${-number},w${row}`, row),
  );
  return `t,a,b,word\n${lines.join('\n')}\n`;
}

function onDisk(files: Readonly<Record<string, string | Uint8Array>>) {
  const folder = mkdtempSync(path.join(tmpdir(), 'wakeline-runs-'));
  const parts = Object.entries(files).map(([name, content]) => {
    writeFileSync(path.join(folder, name), content);
    return { name, file: path.join(folder, name) };
  });
  const samplesRoot = path.join(folder, 'samples');
  return { parts, samplesRoot, spec, zero: ZERO };
}

test('runs written alike and runs in another dress become sources in the order of their files', async () => {
  const request = onDisk({
    'run-1.csv': runText(1),
    'run-2.csv': runText(2, 3),
    'run-3.csv': gzipSync(runText(3)),
    'run-4.csv': runText(4).replaceAll(',', ';').replaceAll('.', ','),
    'run-5.csv': 'b,t,a\n-5,0,5\n-5,1,5.5\n',
  });
  const { folder, issues } = await importRuns(request);
  expect(issues.filter(({ severity }) => severity !== 'note')).toEqual([]);
  const runs = await readRuns(request.samplesRoot, folder ?? '', spec);
  expect(runs.map(({ file, tS }) => [file, tS.length])).toEqual([
    ['run-1.csv', 4],
    ['run-2.csv', 3],
    ['run-3.csv', 4],
    ['run-4.csv', 4],
    ['run-5.csv', 2],
  ]);
  for (const [index, run] of runs.entries()) {
    const [a, b] = run.channels;
    expect(a?.values[0]).toBe(1000 * (index + 1));
    expect(b?.values.at(-1)).toBe(-(index + 1));
  }
  expect([...(runs[3]?.tS ?? [])]).toEqual([0, 0.5, 1, 1.5]);
});

test('the same runs twice are the same folder, another run is another', async () => {
  const request = onDisk({ 'run-1.csv': runText(1), 'run-2.csv': runText(2) });
  const first = await importRuns(request);
  expect((await importRuns(request)).folder).toBe(first.folder);
  writeFileSync(request.parts[1]?.file ?? '', runText(7));
  expect((await importRuns(request)).folder).not.toBe(first.folder);
  expect(readdirSync(request.samplesRoot)).toHaveLength(2);
});

test('a bad cell costs one cell, a step back one row, and the run still counts', async () => {
  const request = onDisk({
    'run-1.csv': runText(1),
    'run-2.csv': runText(2, 6, (row, index) => (index === 2 ? '1,oops,-2,w' : row)),
    'run-3.csv': runText(3, 6, (row, index) => (index === 3 ? '0.5,9,9,w' : row)),
  });
  const { folder, issues } = await importRuns(request);
  const runs = await readRuns(request.samplesRoot, folder ?? '', spec);
  expect(runs.map(({ tS }) => tS.length)).toEqual([4, 6, 5]);
  expect(runs[1]?.channels[0]?.values[2]).toBeNaN();
  expect(runs[1]?.channels[1]?.values[2]).toBe(-2);
  expect(issues.map(({ file, code }) => [file, code])).toContainEqual(['run-2.csv', 'rejects']);
  expect(issues.map(({ file, code }) => [file, code])).toContainEqual([
    'run-3.csv',
    'time-not-ascending',
  ]);
});

test('a run that cannot be read is left out by name; the others count', async () => {
  const request = onDisk({
    'run-1.csv': runText(1),
    'run-2.csv': '',
    'run-3.csv': 'x,y\n1,2\n',
    'run-4.csv': Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 0, 0),
  });
  const { manifest, issues } = await importRuns(request);
  expect(manifest?.runs?.map(({ name }) => name)).toEqual(['run-1.csv']);
  const left = issues.filter(({ message }) => message.startsWith('this simulator run is left out'));
  expect(left.map(({ file, severity }) => [file, severity])).toEqual([
    ['run-2.csv', 'warning'],
    ['run-4.csv', 'warning'],
    ['run-3.csv', 'warning'],
  ]);
  const again = (await importRuns(request)).issues;
  expect(again.map(({ file }) => file).sort()).toEqual(['run-2.csv', 'run-3.csv', 'run-4.csv']);
});

test('a run cut off in its last row is no silent loss', async () => {
  const request = onDisk({ 'run-1.csv': runText(1), 'run-2.csv': `${runText(2)}2.0,1` });
  const { manifest, issues } = await importRuns(request);
  expect(manifest?.runs?.map(({ rows, rowsRejected }) => [rows, rowsRejected])).toEqual([
    [4, 0],
    [4, 1],
  ]);
  expect(issues.some(({ file, code }) => file === 'run-2.csv' && code === 'rejects')).toBe(true);
});
