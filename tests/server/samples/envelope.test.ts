import { expect, test } from 'vitest';
import type { DerivedColumns } from '@/lib/core/reconstruction/reconstruction';
import { partOf } from '@/lib/server/samples/bin-envelope';
import { readEnvelope } from '@/lib/server/samples/read-envelope';
import { readWindow } from '@/lib/server/samples/read-window';
import { verifyFolder } from '@/lib/server/samples/verify-folder';
import { writeDerived } from '@/lib/server/samples/write-derived';
import { seededRandom } from '../../support/seeded-random';
import { sourceOnDisk } from '../../support/telemetry-spec';

const ROWS = 600_000;
const GAP = { afterRow: 300_010, lengthS: 2_000 };
const HOLE = { fromRow: 450_000, toRow: 462_000 };

/** 100 rows a second with a gap, a stretch without samples, single NaNs and single-row spikes. */
function makeColumns(): DerivedColumns & { spikes: number[] } {
  const random = seededRandom(20_250_304);
  const tS = new Float64Array(ROWS);
  const values = new Float64Array(ROWS);
  let timeS = 0;
  for (let row = 0; row < ROWS; row += 1) {
    timeS += 0.01 + (row === GAP.afterRow ? GAP.lengthS : 0);
    tS[row] = timeS;
    const isHole = row >= HOLE.fromRow && row < HOLE.toRow;
    values[row] = isHole || random() < 0.01 ? Number.NaN : random();
  }
  const spikes = Array.from({ length: 40 }, () => Math.floor(random() * ROWS)).filter(
    (row) => row < HOLE.fromRow || row >= HOLE.toRow,
  );
  for (const row of spikes) values[row] = 900 + random();
  return { tS, columns: [{ name: 'v', label: 'v', unit: 'm', values }], spikes };
}

const derived = makeColumns();
const values = derived.columns[0]?.values ?? new Float64Array(0);
const disk = sourceOnDisk('');
const folder = await writeDerived(disk.samplesRoot, derived);

function bruteEnvelope(parts: { fromS: number; toS: number; pixels: number }) {
  const min = new Float64Array(parts.pixels).fill(Number.NaN);
  const max = new Float64Array(parts.pixels).fill(Number.NaN);
  derived.tS.forEach((timeS, row) => {
    const value = values[row] ?? Number.NaN;
    if (timeS < parts.fromS || timeS > parts.toS || Number.isNaN(value)) return;
    const part = partOf(parts, timeS);
    if (!((min[part] ?? Number.NaN) <= value)) min[part] = value;
    if (!((max[part] ?? Number.NaN) >= value)) max[part] = value;
  });
  return { min, max };
}

/** Random windows of every width, and screens of every width. */
function windows(count: number) {
  const random = seededRandom(7);
  const endS = derived.tS[ROWS - 1] ?? 0;
  return Array.from({ length: count }, () => {
    const lengthS = endS * 10 ** (-4 * random());
    const fromS = random() * (endS - lengthS);
    return { fromS, toS: fromS + lengthS, pixels: 20 + Math.floor(random() * 1500) };
  });
}

test('at no level does an envelope hide a sample, nor reach further than a neighbouring pixel', async () => {
  const levels = new Map<number, number>();
  let compared = 0;
  for (const parts of [{ fromS: 0, toS: 9000, pixels: 40 }, ...windows(60)]) {
    const envelope = await readEnvelope(disk.samplesRoot, folder, { columns: ['v'], ...parts });
    const got = envelope.series[0];
    const want = bruteEnvelope(parts);
    levels.set(envelope.rowsPerBin, (levels.get(envelope.rowsPerBin) ?? 0) + 1);
    for (let part = 0; part < parts.pixels; part += 1) {
      const low = got?.min[part] ?? Number.NaN;
      const high = got?.max[part] ?? Number.NaN;
      const wantLow = want.min[part] ?? Number.NaN;
      compared += 1;
      if (!Number.isNaN(wantLow)) {
        expect(low).toBeLessThanOrEqual(wantLow);
        expect(high).toBeGreaterThanOrEqual(want.max[part] ?? Number.NaN);
      }
      if (envelope.exact) expect(Object.is(low, wantLow)).toBe(true);
      const near = [part - 1, part, part + 1].map((at) => want.max[at] ?? Number.NaN);
      const outer = part === 0 || part === parts.pixels - 1;
      // What a bin across an edge adds comes from the pixel next to it, or from outside the window.
      if (!outer && !Number.isNaN(high)) {
        expect(Math.max(...near.filter((value) => !Number.isNaN(value)))).toBeGreaterThanOrEqual(
          high,
        );
      }
    }
  }
  expect([...levels.keys()].sort((a, b) => a - b)).toEqual([1, 64, 512, 4096]);
  expect(compared).toBeGreaterThan(20_000);
});

test('a gap stays empty at every level', async () => {
  const gapFromS = derived.tS[GAP.afterRow - 1] ?? 0;
  for (const parts of [
    { fromS: 0, toS: 8000, pixels: 60 },
    { fromS: 1000, toS: 6000, pixels: 800 },
    { fromS: gapFromS - 5, toS: gapFromS + 100, pixels: 500 },
  ]) {
    const { series } = await readEnvelope(disk.samplesRoot, folder, { columns: ['v'], ...parts });
    const first = partOf(parts, gapFromS) + 2;
    const last = Math.min(partOf(parts, gapFromS + GAP.lengthS) - 2, parts.pixels - 2);
    expect(last).toBeGreaterThan(first);
    for (let part = first; part <= last; part += 1) expect(series[0]?.max[part]).toBeNaN();
  }
});

test('each single-row spike is seen in the widest view', async () => {
  const parts = { fromS: 0, toS: 8001, pixels: 300 };
  const { series } = await readEnvelope(disk.samplesRoot, folder, { columns: ['v'], ...parts });
  expect(derived.spikes.length).toBeGreaterThan(30);
  for (const row of derived.spikes) {
    const part = partOf(parts, derived.tS[row] ?? 0);
    expect(series[0]?.max[part]).toBeGreaterThanOrEqual(values[row] ?? Number.NaN);
  }
});

test('a window gives the rows themselves, and says when it was cut', async () => {
  const fromS = derived.tS[1000] ?? 0;
  const toS = derived.tS[1099] ?? 0;
  const whole = await readWindow(disk.samplesRoot, folder, {
    columns: ['v'],
    fromS,
    toS,
    maxRows: 500,
  });
  expect(whole.cut).toBe(false);
  expect(whole.tS).toEqual(derived.tS.slice(1000, 1100));
  expect(whole.columns[0]?.values).toEqual(values.slice(1000, 1100));
  const cut = await readWindow(disk.samplesRoot, folder, {
    columns: ['v'],
    fromS,
    toS,
    maxRows: 7,
  });
  expect([cut.cut, cut.rowsInWindow, cut.tS.length]).toEqual([true, 100, 7]);
});

test('the same derived columns give the same folder, and it is whole', async () => {
  expect(await writeDerived(disk.samplesRoot, derived)).toBe(folder);
  expect(await verifyFolder(disk.samplesRoot, folder)).toEqual([]);
});
