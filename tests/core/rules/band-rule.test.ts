import { describe, expect, test } from 'vitest';
import { rateOf, vectorSumOf } from '@/lib/core/rules/derived-quantity';
import { stateSpans } from '@/lib/core/rules/rule-domain';
import { evaluateRule } from '@/lib/core/rules/rule-kinds';
import type { BandRule, QuantityRule } from '@/lib/core/session/rule';
import { expectWithin } from '../../support/expect-within';
import { gaussian } from '../../support/flown-session';
import { contextOf, exactly } from '../../support/rule-signal';
import { seededRandom } from '../../support/seeded-random';

const BAND: BandRule = {
  kind: 'band',
  id: 'band',
  statement: 'Between the bounds.',
  when: null,
  quantity: { kind: 'named', name: 'signal' },
  low: { kind: 'constant', value: -0.5 },
  high: { kind: 'constant', value: 0.5 },
  persistsS: 0,
  unit: 'm',
};
const inMode = (is: readonly number[]): BandRule['when'] => ({
  rangeM: null,
  axialM: null,
  step: null,
  mode: { channel: 'mode', is },
});

/** A small random signal with a state that changes now and then. */
function randomSignal(random: () => number) {
  const count = 3 + Math.floor(random() * 12);
  let atS = 0;
  const tS = Float64Array.from({ length: count }, () => {
    atS += 0.1 + random();
    return atS;
  });
  const value = tS.map(() => 2 * random() - 1);
  let state = 1;
  const states = tS.map(() => {
    if (random() < 0.25) state = 3 - state;
    return state;
  });
  return { tS, value, states };
}

type Signal = ReturnType<typeof randomSignal>;

/** Room at any time: the nearer bound at the rows, a straight line between them. */
function roomAt({ tS, value }: Signal, atS: number): number {
  const room = (row: number): number => Math.min(0.5 - (value[row] ?? 0), (value[row] ?? 0) + 0.5);
  for (let row = 1; row < tS.length; row++) {
    const [t0, t1] = [tS[row - 1] ?? 0, tS[row] ?? 0];
    if (atS > t1) continue;
    return room(row - 1) + ((atS - t0) / (t1 - t0)) * (room(row) - room(row - 1));
  }
  return room(tS.length - 1);
}

/** Runs of rows in state 1, found the plain way. */
function runsInState({ tS, states }: Signal): readonly (readonly [number, number])[] {
  const runs: [number, number][] = [];
  states.forEach((state, row) => {
    if (state !== 1) return;
    const isOn = row > 0 && states[row - 1] === 1;
    const last = runs.at(-1);
    if (isOn && last !== undefined) last[1] = tS[row] ?? 0;
    else runs.push([tS[row] ?? 0, tS[row] ?? 0]);
  });
  return runs.filter(([from, to]) => to > from);
}

/** The definition over a raster: min over t of max over [t, t + persists], in each run by itself. */
function bruteForce(signal: Signal, persistsS: number, raster: number): number | null {
  let best: number | null = null;
  for (const [from, to] of runsInState(signal)) {
    for (let at = from; at + persistsS <= to + 1e-9; at += raster) {
      let most = Number.NEGATIVE_INFINITY;
      for (let u = at; u < at + persistsS; u += raster) most = Math.max(most, roomAt(signal, u));
      most = Math.max(most, roomAt(signal, Math.min(at + persistsS, to)));
      for (const row of signal.tS) {
        if (row >= at && row <= at + persistsS) most = Math.max(most, roomAt(signal, row));
      }
      best = best === null ? most : Math.min(best, most);
    }
  }
  return best;
}

/**
 * Robustness of "never outside the band for a time, while in a state": A. Donze, O. Maler, "Robust
 * satisfaction of temporal logic over real-valued signals", FORMATS 2010; O. Maler, D. Nickovic,
 * "Monitoring temporal properties of continuous signals", FORMATS 2004. Held against the definition.
 */
describe('margin of a band', () => {
  test('agrees with the definition by brute force on 100 small random signals with states', () => {
    const random = seededRandom(404);
    let judged = 0;
    for (let trial = 0; trial < 100; trial++) {
      const signal = randomSignal(random);
      const lengthS = (signal.tS.at(-1) ?? 0) - (signal.tS[0] ?? 0);
      const persistsS = random() < 0.3 ? 0 : 0.4 * random() * lengthS;
      const context = contextOf({
        quantity: () => exactly(signal),
        states: () => ({ tS: signal.tS, values: signal.states, channel: 'mode' }),
      });
      const rule = { ...BAND, when: inMode([1]), persistsS };
      const outcome = evaluateRule(rule, context);
      const raster = lengthS / 500;
      const expected = bruteForce(signal, persistsS, raster);
      if (expected === null || outcome.margin === null) {
        expect(outcome.margin, `trial ${trial}`).toBe(null);
        continue;
      }
      judged++;
      // Slopes stay below 2 / 0.1 per second.
      expectWithin(outcome.margin.value, expected, 40 * raster, `trial ${trial}: raster`);
    }
    expect(judged).toBeGreaterThan(60);
  });

  test('is below 0 exactly where a stretch outside lasts longer than the persistence', () => {
    const random = seededRandom(17);
    for (let trial = 0; trial < 60; trial++) {
      const signal = randomSignal(random);
      const context = contextOf({ quantity: () => exactly(signal) });
      const persistsS = 0.5 * random();
      const rule: BandRule = { ...BAND, persistsS };
      const { margin, exceedances } = evaluateRule(rule, context);
      const longest = Math.max(0, ...exceedances.map(({ startS, endS }) => endS - startS));
      if (margin !== null) expect(margin.value < 0, `trial ${trial}`).toBe(longest > persistsS);
    }
  });

  test('an upper or a lower bound of the plain form is a band with one side open', () => {
    const signal = randomSignal(seededRandom(3));
    const context = contextOf({ quantity: () => exactly(signal) });
    for (const sense of ['at-most', 'at-least'] as const) {
      const plain: QuantityRule = {
        kind: 'quantity',
        id: 'band',
        statement: 'One side.',
        quantity: 'signal',
        sense,
        limit: { kind: 'constant', value: 0.2 },
        unit: 'm',
        within: null,
        persistsS: 0.3,
      };
      const { limit } = plain;
      const open = { low: null, high: null, [sense === 'at-most' ? 'high' : 'low']: limit };
      const band: BandRule = { ...BAND, ...open, persistsS: 0.3 };
      expect(evaluateRule(plain, context)).toEqual(evaluateRule(band, context));
    }
  });

  test('an exceedance says which bound was passed, and by how much', () => {
    const tS = Float64Array.from([0, 1, 2, 3, 4, 5, 6]);
    const value = Float64Array.from([0, 0.8, 0, 0, -0.9, 0, 0]);
    const context = contextOf({ quantity: () => exactly({ tS, value }) });
    const { exceedances, verdict } = evaluateRule(BAND, context);
    expect(verdict).toBe('broken');
    expect(exceedances.map(({ worst, limit }) => [worst, limit])).toEqual([
      [0.8, 0.5],
      [-0.9, -0.5],
    ]);
  });

  test('a rule on a state that no source has is not evaluated', () => {
    const signal = randomSignal(seededRandom(3));
    const context = contextOf({ quantity: () => exactly(signal), states: () => null });
    const rule: BandRule = { ...BAND, when: inMode([1]) };
    expect(evaluateRule(rule, context)).toMatchObject({
      verdict: 'not evaluated',
      reason: 'no-such-channel',
      explanation: 'No source has a channel for mode.',
    });
  });

  test('a state counts from its first row to its last, not between two states', () => {
    const states = { tS: Float64Array.from([0, 1, 2, 3, 4]), channel: 'mode' };
    const values = Float64Array.from([1, 1, 2, Number.NaN, 1]);
    expect(stateSpans({ ...states, values }, [1])).toEqual([
      { fromS: 0, toS: 1 },
      { fromS: 4, toS: 4 },
    ]);
  });
});

describe('derived quantities', () => {
  const tS = Float64Array.from({ length: 301 }, (_, row) => row / 10);

  test('the rate of a straight line is its slope, across no gap', () => {
    const line = exactly({ tS, value: tS.map((atS) => 3 - 0.25 * atS) }, 'm');
    const rate = rateOf({
      ...line,
      stretches: [
        { from: 0, to: 150 },
        { from: 150, to: 301 },
      ],
    });
    expect(rate.unit).toBe('m/s');
    for (const value of rate.value) expect(value).toBeCloseTo(-0.25, 10);
  });

  test('its stated noise is that of the slope of independent samples', () => {
    const random = seededRandom(8);
    const sd = 0.02;
    const value = tS.map(() => sd * gaussian(random));
    const rate = rateOf(exactly({ tS, value }, 'm', { sd: tS.map(() => sd), spanS: 0.1 }));
    const middle = [...rate.value].slice(30, 270);
    const found = Math.sqrt(middle.reduce((sum, one) => sum + one * one, 0) / middle.length);
    // Some 6 independent windows of 4 s: the scatter itself is known to about 30 %.
    expectWithin(found / (rate.sd[150] ?? 0), 1, 0.5, 'few independent windows');
  });

  /** By arithmetic, as the docking standard counts pitch and yaw: 3 and 3 deg are 4.243 deg. */
  test('two axes of 3 deg are 4.243 deg together, beyond a limit of 4', () => {
    const three = exactly({ tS, value: tS.map(() => 3) }, 'rad');
    const sum = vectorSumOf([three, three]);
    expectWithin(sum?.value[10], 4.2426, 5e-5, 'printed to 0.1 mdeg');
    const rule: BandRule = {
      ...BAND,
      quantity: { kind: 'vector-sum', of: ['pitch', 'yaw'] },
      low: null,
      high: { kind: 'constant', value: 4 },
    };
    const context = contextOf({ quantity: () => three });
    expect(evaluateRule(rule, context)).toMatchObject({ verdict: 'broken' });
    const only = contextOf({ quantity: (name) => (name === 'pitch' ? three : null) });
    expect(evaluateRule(rule, only).explanation).toBe('No source has a channel for yaw.');
  });

  test('parts on other rows are taken between their rows, and not across a gap', () => {
    const slow = Float64Array.from([0, 1, 2, 3]);
    const four = exactly({ tS: slow, value: Float64Array.from([4, 4, 4, 4]) }, 'm', {
      stretches: [
        { from: 0, to: 2 },
        { from: 2, to: 4 },
      ],
    });
    const sum = vectorSumOf([exactly({ tS, value: tS.map(() => 3) }), four]);
    expect(sum?.value[5]).toBe(5);
    expect(sum?.value[15]).toBeNaN();
    expect(sum?.value[25]).toBe(5);
  });
});
