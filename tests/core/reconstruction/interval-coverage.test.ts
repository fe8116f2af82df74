import { expect, test } from 'vitest';
import { type Figure, halfWidth95 } from '@/lib/core/figure';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { Rule } from '@/lib/core/session/rule';
import {
  type FlownOptions,
  flownSession,
  lateralTruth,
  TEST_ENGINE,
} from '../../support/flown-session';
import { JOLTED_ARRIVAL, RATE_RULE } from '../../support/rate-rule';

const FLIGHTS = 40;

const FLIGHT: FlownOptions = JOLTED_ARRIVAL;
const RATE: Rule = RATE_RULE;

const CONE: Rule = {
  ...RATE_RULE,
  id: 'cone',
  quantity: 'lateral_offset',
  limit: { kind: 'cone', halfAngleRad: 0.05, floorM: 0.2 },
  unit: 'm',
  within: { rangeM: null, axialM: [1.5, 90], step: null },
};

function rangeAt(atS: number): number {
  const side = lateralTruth(FLIGHT, atS);
  return Math.hypot(FLIGHT.axial(atS).xM, side.yM, side.zM);
}

/** The first time after `fromS` at which a falling or rising function passes zero, to 1 us. */
function passes(f: (atS: number) => number, fromS: number): number {
  let low = fromS;
  while (f(low) < 0 === f(low + 0.05) < 0) low += 0.05;
  let high = low + 0.05;
  while (high - low > 1e-6) {
    const middle = (low + high) / 2;
    if (f(middle) < 0 === f(low) < 0) low = middle;
    else high = middle;
  }
  return low;
}

function closingAt(atS: number): number {
  return (rangeAt(atS - 1e-3) - rangeAt(atS + 1e-3)) / 2e-3;
}

const EDGES = [60.5, 420, 490.5].map((fromS) => passes((atS) => closingAt(atS) - 0.02, fromS));
const CONTACT_S = passes((atS) => FLIGHT.axial(atS).xM, 700);
const LAST_ROW_S = Math.floor(CONTACT_S / 0.2) * 0.2;

/** Smallest room to the cone: the lateral offset is largest at 0.1 m, where the floor holds. */
const CONE_ROOM_M = 0.1;

type Count = { inside: number; flights: number; halves: number; squares: number };

/**
 * The half-widths are of 95 %: over 40 flights with seeded noise each figure's interval should hold the
 * truth in some 38; 33 is exceeded by chance in all but 1 of 50 cases of a true 90 %. Nor may they be
 * so wide as to say nothing: no more than six times the scatter seen.
 */
test('intervals hold the truth about as often as they say, and are not idle', () => {
  const counts = new Map<string, Count>();
  const add = (name: string, figure: Figure | null | undefined, truth: number): void => {
    if (figure === null || figure === undefined || figure.value === null) {
      throw new Error(`no ${name}`);
    }
    const half = halfWidth95(figure) ?? 0;
    const count = counts.get(name) ?? { inside: 0, flights: 0, halves: 0, squares: 0 };
    counts.set(name, {
      inside: count.inside + (Math.abs(figure.value - truth) <= half ? 1 : 0),
      flights: count.flights + 1,
      halves: count.halves + half,
      squares: count.squares + (figure.value - truth) ** 2,
    });
  };
  for (let seed = 1; seed <= FLIGHTS; seed++) {
    const input = flownSession({ ...FLIGHT, seed, rules: [RATE, CONE] });
    const { reconstruction } = reconstruct(input, TEST_ENGINE);
    const { phases, contact, exceedances, rules } = reconstruction;
    expect(phases).toHaveLength(4);
    EDGES.forEach((edgeS, index) => {
      add(`edge ${index}`, phases[index + 1]?.startS, edgeS);
      add(`range at edge ${index}`, phases[index + 1]?.rangeStartM, rangeAt(edgeS));
    });
    const [startS = 0, endS = 0] = EDGES;
    const mean = (rangeAt(startS) - rangeAt(endS)) / (endS - startS);
    add('mean closing rate', phases[1]?.meanClosingRateMps, mean);
    add('mean deviation', phases[1]?.rateDeviation?.meanMps, 0);
    add('contact time', contact?.timeS, CONTACT_S);
    add('contact rate', contact?.conditions.closing_rate, 0.08);
    const side = lateralTruth(FLIGHT, LAST_ROW_S - 0.5);
    add('contact offset', contact?.conditions.lateral_offset, Math.hypot(side.yM, side.zM));
    add(
      'contact lateral rate',
      contact?.conditions.lateral_rate,
      Math.hypot(side.vyMps, side.vzMps),
    );
    expect(exceedances).toHaveLength(1);
    add('exceedance end', exceedances[0]?.endS, 600);
    add('exceedance worst', exceedances[0]?.worst, 0.14);
    add('rate margin', rules[0]?.margin, -0.02);
    add('rate instant margin', rules[0]?.instantMargin, -0.04);
    add('cone margin', rules[1]?.instantMargin, CONE_ROOM_M);
  }
  for (const [name, { inside, flights, halves, squares }] of counts) {
    const rms = Math.sqrt(squares / flights);
    const said = `${name}: ${inside} of ${flights}, half-width ${halves / flights}, scatter ${rms}`;
    expect(inside, said).toBeGreaterThanOrEqual(33);
    expect(halves / flights, said).toBeLessThan(6 * rms);
  }
});
