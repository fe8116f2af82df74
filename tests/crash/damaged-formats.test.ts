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

/** Of what is read as text, and of what goes through the sample store, 20 times as slow; thousands in the soak. */
const SEEDS = { text: 36, samples: 12 } as const;
const IN_SAMPLES = /^(?:telemetry|tracking)\./;

/** Sums guard what is packed: hardly any damage leaves it readable. */
const PACKED = /\.(?:gz|zip|parquet)$/;

const cases = (await damagedFormats()).map(
  (format) =>
    [IN_SAMPLES.test(format.name) ? SEEDS.samples : SEEDS.text, format.name, format] as const,
);

test.each(cases)(
  '%i damaged %s are each refused with an error or read with rows that add up',
  async (seeds, name, format) => {
    const place = path.join(scratch, name);
    const whole = await runDamagedFormat(format, -1, place);
    expect(whole).toMatchObject({ ended: 'read', problems: [] });
    const bad: unknown[] = [];
    const ended = { read: 0, refused: 0, threw: 0 };
    for (let seed = 1; seed <= seeds; seed += 1) {
      const outcome = await runDamagedFormat(format, seed, place);
      ended[outcome.ended] += 1;
      if (outcome.problems.length > 0) bad.push(outcome);
    }
    expect(bad).toEqual([]);
    const some = seeds / 18;
    expect(ended.read).toBeGreaterThan(PACKED.test(name) ? -1 : some);
    expect(ended.refused).toBeGreaterThan(some);
  },
  120_000,
);
