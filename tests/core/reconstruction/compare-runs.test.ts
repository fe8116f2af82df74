import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { quantileSorted } from '@/lib/core/math/quantiles';
import type { Comparison } from '@/lib/core/reconstruction/comparison';
import { listFigures } from '@/lib/core/reconstruction/list-figures';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import { runsInWords } from '@/lib/core/reconstruction/runs-origin';
import type { SimulationSet, TelemetrySource } from '@/lib/core/session/session-input';
import { expectWithin } from '../../support/expect-within';
import {
  axialMotion,
  FLOWN_PLAN,
  type FlownOptions,
  flownTelemetry,
  moveParts,
  sessionOf,
} from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

const RUNS = 40;

/** An arrival from 30 m: hold, then in. Amplitude and period of the wobble across are given. */
function approach(seed: number, lateralM: readonly [number, number], rateMps = 0.08): FlownOptions {
  const axial = axialMotion(30, moveParts(rateMps, 32, 40));
  return { axial, durationS: 600, stepS: 1, seed, lateralM };
}

/** The runs' true rates: drawn evenly from 0.075 to 0.085 m/s. */
const trueRatesMps: number[] = [];

const plan = { ...FLOWN_PLAN, steps: FLOWN_PLAN.steps.slice(2) };

function makeRuns(): SimulationSet {
  const random = seededRandom(77);
  const runs = Array.from({ length: RUNS }, (_, index) => {
    const wobble = [0.05 + 0.05 * random(), 70 + 40 * random()] as const;
    const rateMps = 0.075 + 0.01 * random();
    trueRatesMps.push(rateMps);
    const run = flownTelemetry(approach(index + 10, wobble, rateMps));
    return { ...run, file: `run-${index + 1}.csv` };
  });
  return { files: 'run-*.csv', like: 'telemetry.csv', sha256: 'b'.repeat(64), runs };
}

function reconstructed(flight: FlownOptions | TelemetrySource, simulations: SimulationSet) {
  const source = 'tS' in flight ? flight : flownTelemetry(flight);
  const input = { ...sessionOf([source], plan), simulations };
  const sha256 = (text: string) => createHash('sha256').update(text).digest('hex');
  return reconstruct(input, { engine: 'test', sha256 }).reconstruction;
}

function comparisonOf({ comparison }: Reconstruction): Comparison {
  if (comparison === null) throw new Error('nothing was compared');
  return comparison;
}

function compared(flight: FlownOptions | TelemetrySource, simulations: SimulationSet): Comparison {
  return comparisonOf(reconstructed(flight, simulations));
}

const plainRuns = makeRuns();
const usualSession = reconstructed(approach(1, [0.075, 90]), plainRuns);
const usual = comparisonOf(usualSession);
const score = ({ scores }: Comparison, name: string) => scores.find((each) => each.name === name);
const quantity = ({ quantities }: Comparison, name: string) =>
  quantities.find((each) => each.name === name);

describe('a usual flight', () => {
  test('counts every run and raises no alarm', () => {
    expect(usual).toMatchObject({ runs: RUNS, leftOut: [], step: 'final' });
    expect(usual.scores.filter(({ standsOut }) => standsOut).map(({ name }) => name)).toEqual([]);
    for (const name of ['y_std_final_m', 'z_std_final_m', 'final_duration_s']) {
      const { runsBelow = 0, chance } = score(usual, name) ?? {};
      expect(runsBelow, name).toBeGreaterThan(0);
      expect(runsBelow, name).toBeLessThan(RUNS);
      expect(chance, name).toBeGreaterThan(1 / (RUNS + 1));
    }
  });

  test('has the deviation of its true motion: amplitude / sqrt 2 over whole periods', () => {
    // 30 m at 0.08 m/s and its ramp take some 4.2 periods of 90 s: the rest of one moves it by 5 %.
    const flight = score(usual, 'y_std_final_m')?.flight;
    expectWithin(flight?.value ?? Number.NaN, 0.075 / Math.SQRT2, 0.004, 'not whole periods');
    expect(flight?.uncertainty?.random).toBeLessThan(0.01);
  });

  test('is compared at whole metres inside the final step', () => {
    const {
      places = [],
      runsThere = [],
      p05 = [],
      p95 = [],
    } = quantity(usual, 'closing_rate') ?? {};
    expect(places[0]).toBe(1);
    expect(places.at(-1)).toBe(29);
    expect(Math.min(...runsThere)).toBe(RUNS);
    const middle = places.indexOf(15);
    const rates = [...trueRatesMps].sort((a, b) => a - b);
    const noise = 'the noise of single estimates widens the band';
    expectWithin(p05[middle] ?? Number.NaN, quantileSorted(rates, 0.05, 7), 0.002, noise);
    expectWithin(p95[middle] ?? Number.NaN, quantileSorted(rates, 0.95, 7), 0.002, noise);
  });
});

test('a loose axis is beyond all runs, and only that axis', () => {
  const loose = compared(approach(2, [0.3, 90]), plainRuns);
  expect(score(loose, 'y_std_final_m')).toMatchObject({
    runsBelow: RUNS,
    chance: 1 / (RUNS + 1),
    standsOut: true,
  });
  const out = loose.scores.filter(({ standsOut }) => standsOut).map(({ name }) => name);
  // The wobble across is one motion with both components.
  for (const name of out) expect(name).toMatch(/^(y|z|lateral_offset)_(std|peak|mean)_/);
  expect(score(loose, 'final_duration_s')?.runsBelow).toBeLessThan(RUNS);
  expect(quantity(loose, 'y')?.outside.length).toBeGreaterThan(0);
  for (const [fromM, toM] of quantity(loose, 'y')?.outside ?? [])
    expect(fromM).toBeGreaterThanOrEqual(toM);
  expect(quantity(loose, 'y')?.shareOutside.value).toBeGreaterThan(
    quantity(loose, 'y')?.chanceP95.value ?? 1,
  );
});

test('a flight that is one of the runs is nearest itself', () => {
  const own = plainRuns.runs[6];
  if (own === undefined) throw new Error('no such run');
  const { nearest } = compared({ ...own, file: 'telemetry.csv' }, plainRuns);
  expect(nearest).toMatchObject({ name: 'run-7.csv', distance: { value: 0 } });
});

test('a run that never flies the final step is left out and named', () => {
  const still = flownTelemetry({ axial: () => ({ xM: 30, vMps: 0 }), durationS: 100 });
  const runs = [...plainRuns.runs, { ...still, file: 'still.csv' }];
  const result = compared(approach(1, [0.075, 90]), { ...plainRuns, runs });
  expect(result.leftOut).toEqual([{ name: 'still.csv', reason: 'its final step is not found' }]);
  const saidOf = JSON.stringify({ ...result, leftOut: [] });
  expect(saidOf.replaceAll('40 of 41 runs', '40 runs')).toBe(JSON.stringify(usual));
});

test('the order of the runs changes no band and no score', () => {
  const runs = [...plainRuns.runs].reverse();
  const turned = compared(approach(1, [0.075, 90]), { ...plainRuns, runs });
  expect(turned.quantities).toEqual(usual.quantities);
  expect(turned.scores).toEqual(usual.scores);
});

test('every figure of a comparison says which runs it rests on, with a hash', () => {
  const figures = [...listFigures(usualSession)].filter(([key]) => key.startsWith('comparison.'));
  expect(figures.length).toBeGreaterThan(100);
  for (const [key, { evidence, method }] of figures) {
    expect(method, key).not.toBe('');
    expect(evidence.sources.map(({ sha256: hash }) => hash).join(), key).toMatch(/[ab]{64}/);
    if (!/flight$|places$|pairs\[1\]/.test(key)) {
      expect(evidence.runs, key).toBe('40 runs: run-1.csv to run-40.csv');
      expect(
        evidence.sources.map(({ file }) => file),
        key,
      ).toContain('run-*.csv');
    }
  }
});

test('runs that do not count are told by what remains', () => {
  const names = ['a', 'b', 'c', 'd', 'e'];
  expect(runsInWords(names, new Set(['a', 'b', 'd']))).toBe('3 of 5 runs: a to b, d');
  expect(runsInWords(names, new Set(names))).toBe('5 runs: a to e');
});

describe('reconstructions among the runs', () => {
  const flown = { massKg: 7000, navigationModel: 'camera', configuration: 'six jets' };
  const prediction = { ...flown, basis: 'prediction', inputs: 'own' } as const;
  const all = { ...prediction, version: '4.1', initialState: null };
  const again = { ...flownTelemetry(approach(9, [0.075, 90])), file: 'again.csv' };
  const runs = [...plainRuns.runs.slice(0, 3), again];
  const said = { basis: 'reconstruction' } as const;
  const about = { flown, all, parts: [{ files: 'again*.csv', said }] };

  test('make no band, and say that a vehicle was looser where like is held against like', () => {
    const loose = compared(approach(2, [0.3, 90]), { ...plainRuns, runs, about });
    expect(loose.runs).toBe(3);
    const y = loose.vehicle.find(({ axis }) => axis === 'y');
    // Amplitudes 0.3 and 0.075 m of the same wobble.
    expectWithin(y?.ratio.value ?? Number.NaN, 4, 0.1, 'noise of both estimates');
    expect(y?.verdict).toBe('looser');
    expect(loose.vehicle.find(({ axis }) => axis === 'axial_closing_rate')?.verdict).toBe(
      'as simulated',
    );
  });

  test('claim nothing where the mass differs', () => {
    const parts = [{ files: 'again*.csv', said: { ...said, mass_kg: 7200 } }];
    const { groups, vehicle } = compared(approach(2, [0.3, 90]), {
      ...plainRuns,
      runs,
      about: { ...about, parts },
    });
    expect(groups[1]?.differs).toEqual(['mass (7000 kg flown, 7200 kg simulated)']);
    expect(new Set(vehicle.map(({ verdict }) => verdict))).toEqual(new Set(['not claimed']));
  });
});

/**
 * Two and a half times the runs' deviation, beyond all forty of them: what a loose axis looks like. Motion
 * across leaks into the rate along the line to the port (elementary), never into the one along the axis.
 */
test('the loose axis is named, and no other with it', () => {
  const { axes } = compared(approach(2, [0.28, 85]), plainRuns);
  const loose = axes.filter(({ verdict }) => verdict === 'loose').map(({ axis }) => axis);
  expect(loose).toEqual(['y', 'z']);
  expect(axes.find(({ axis }) => axis === 'axial_closing_rate')?.verdict).toBe('usual');
});

test('an axis beyond all runs, but not far, is neither usual nor loose', () => {
  const { axes } = compared(approach(2, [0.107, 85]), plainRuns);
  expect(axes.find(({ axis }) => axis === 'y')?.verdict).toBe('beyond');
});
