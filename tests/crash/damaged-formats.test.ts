import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { runDamagedFormat } from './damaged-format';
import { damagedFormats } from './damaged-samples';

let scratch = '';
beforeAll(async () => {
  scratch = await mkdtemp(path.join(tmpdir(), 'wakeline-format-'));
});
afterAll(() => rm(scratch, { recursive: true, force: true }));

const SEEDS = 36;

/** Sums guard what is packed: hardly any damage leaves it readable. */
const PACKED = /\.(?:gz|zip|parquet)$/;

test.each((await damagedFormats()).map((format) => [format.name, format] as const))(
  '36 damaged %s are each refused with an error or read with rows that add up',
  async (name, format) => {
    const place = path.join(scratch, name);
    const whole = await runDamagedFormat(format, -1, place);
    expect(whole).toMatchObject({ ended: 'read', problems: [] });
    const bad: unknown[] = [];
    const ended = { read: 0, refused: 0, threw: 0 };
    for (let seed = 1; seed <= SEEDS; seed += 1) {
      const outcome = await runDamagedFormat(format, seed, place);
      ended[outcome.ended] += 1;
      if (outcome.problems.length > 0) bad.push(outcome);
    }
    expect(bad).toEqual([]);
    expect(ended.read).toBeGreaterThan(PACKED.test(name) ? -1 : 2);
    expect(ended.refused).toBeGreaterThan(2);
  },
  120_000,
);
