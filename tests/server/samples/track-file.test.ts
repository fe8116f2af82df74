import { mkdtemp } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { expect, test } from 'vitest';
import type { Track } from '@/lib/core/compare/track';
import type { CompareTracks } from '@/lib/core/reconstruction/compare-tracks';
import { readDifferences } from '@/lib/server/samples/difference-file';
import { readTracks } from '@/lib/server/samples/track-file';
import { verifyFolder } from '@/lib/server/samples/verify-folder';
import { writeDerived } from '@/lib/server/samples/write-derived';

function track(name: string, rows: number): Track {
  const tS = Float64Array.from({ length: rows }, (_, k) => k / 3);
  return {
    name,
    sha256: 'c'.repeat(64),
    tS,
    spans: [{ from: 0, to: rows }],
    columns: new Map([
      ['range', tS.map((atS) => 10 - atS)],
      ['y', tS.map((_, k) => (k === 1 ? Number.NaN : 1 / (k + 1)))],
    ]),
    steps: { final: [0, 1] },
    contactS: name === 'flight' ? 1.25 : null,
  };
}

test('flight, runs and differences come back to the bit, and other ones make another folder', async () => {
  const root = await mkdtemp(path.join(tmpdir(), 'wakeline-tracks-'));
  const tracks: CompareTracks = {
    pass: { step: 'final', sense: 'inward' },
    flight: track('flight', 7),
    runs: [track('a', 5), track('b', 9)],
    others: [],
    channels: ['x'],
    sources: [{ file: 'telemetry.csv', sha256: 'a'.repeat(64) }],
    files: 'runs/*.csv',
    sha256: 'b'.repeat(64),
    people: { 'step:final': ['Its start was moved by hand.'] },
  };
  const differences = [
    {
      first: 'telemetry.csv',
      second: 'laser.csv',
      everySample: 3,
      tS: Float64Array.of(0, 1 / 3),
      rangeM: Float64Array.of(2, 4 / 3),
      differenceM: Float64Array.of(-1 / 7, 1e-300),
    },
  ];
  const derived = {
    tS: Float64Array.of(0, 1),
    columns: [{ name: 'range', label: 'Range', unit: 'm', values: Float64Array.of(2, 1) }],
  };
  const folder = await writeDerived(root, derived, { tracks, differences });
  expect(await verifyFolder(root, folder)).toEqual([]);
  expect(await readTracks(root, folder)).toEqual(tracks);
  expect(await readDifferences(root, folder)).toEqual(differences);
  const without = await writeDerived(root, derived);
  expect(without).not.toBe(folder);
  expect(await readTracks(root, without)).toBeNull();
  expect(await readDifferences(root, without)).toEqual([]);
});
