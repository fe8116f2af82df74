/** One flight written in other units and signs: the results stay. */
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { expect, test } from 'vitest';
import { reconstructionFile } from '@/lib/core/reconstruction/contract-file';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import { readSessionFolder } from '@/lib/server/session-folder';
import { expectWithin } from '../../support/expect-within';
import { TEST_ENGINE } from '../../support/flown-session';
import { folderOnDisk, smallSession } from '../../support/small-session';

/** By definition, 1 ft = 0.3048 m. Source: international yard and pound agreement, 1959. */
const METRES_PER_FOOT = 0.3048;

async function results(changes: Readonly<Record<string, string>> = {}): Promise<unknown> {
  const root = path.join(mkdtempSync(path.join(tmpdir(), 'wakeline-root-')), 'samples');
  const folder = folderOnDisk(smallSession(changes));
  const { input, issues } = await readSessionFolder(folder, { samplesRoot: root });
  expect(issues).toEqual([]);
  if (input === null) throw new Error('the folder was not read');
  return reconstructionFile(reconstruct(input, TEST_ENGINE).reconstruction);
}

/** All numbers agree to rounding, all words to the letter; the files' own hashes may differ. */
function expectAlike(ours: unknown, theirs: unknown, at = ''): void {
  if (typeof theirs === 'number') expectWithin(ours as number, theirs, 1e-6, `rounding, ${at}`);
  else if (theirs === null || typeof theirs !== 'object') {
    if (!at.endsWith('sha256')) expect(ours, at).toEqual(theirs);
  } else {
    expect(Object.keys(ours as object), at).toEqual(Object.keys(theirs));
    for (const [key, value] of Object.entries(theirs))
      expectAlike((ours as Record<string, unknown>)[key], value, `${at}.${key}`);
  }
}

test('metres written as feet, and a column with the other sign, change no result', async () => {
  const plain = smallSession();
  const session = plain.get('session.yaml') ?? '';
  const feet = session
    .replaceAll('unit: m }', 'unit: ft }')
    .replaceAll('unit: m/s }', 'unit: ft/s }')
    .replace('y: { as: position.y, unit: ft }', 'y: { as: position.y, unit: ft, sign: -1 }');
  const [header = '', ...rows] = (plain.get('telemetry.csv') ?? '').trimEnd().split('\n');
  const inFeet = rows.map((row) => {
    const [t, ...numbers] = row.split(',');
    const turned = numbers.map((each, i) => (Number(each) / METRES_PER_FOOT) * (i === 1 ? -1 : 1));
    return [t, ...turned].join(',');
  });
  const telemetry = `${[header, ...inFeet].join('\n')}\n`;
  const ours = await results({ 'session.yaml': feet, 'telemetry.csv': telemetry });
  expectAlike(ours, await results());
});
