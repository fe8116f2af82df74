/** How often the stated 95 % intervals hold the truth, over many simulated approaches. */
import { type Figure, halfWidth95 } from '@/lib/core/figure';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import { type CalibrationCase, calibrationFlight } from '../support/calibration-flight';
import { trueFigures } from '../support/calibration-truth';
import { TEST_ENGINE } from '../support/flown-session';

/** Errors and half-widths of one figure over the flights of one case. */
export type Tally = { errors: number[]; halves: number[] };

export type CaseResult = Readonly<{
  tallies: ReadonlyMap<string, Tally>;
  flights: number;
  /** Flights with other phases than the four flown. */
  otherPhases: readonly number[];
  /** Verdicts of the rate rule by truth and verdict. */
  verdicts: ReadonlyMap<string, number>;
}>;

/** The figures that the study is about, by the names of `trueFigures`. */
export function statedFigures(r: Reconstruction): ReadonlyMap<string, Figure | undefined> {
  const out = new Map<string, Figure | null | undefined>();
  for (const i of [1, 2, 3]) {
    out.set(`edge ${i}`, r.phases[i]?.startS);
    out.set(`range at edge ${i}`, r.phases[i]?.rangeStartM);
  }
  out.set('mean closing rate', r.phases[1]?.meanClosingRateMps);
  out.set('rate margin', r.rules[0]?.margin);
  out.set('rate instant margin', r.rules[0]?.instantMargin);
  out.set('cone margin', r.rules[1]?.margin);
  const beyond = r.exceedances.filter(({ rule }) => rule === 'rate');
  if (beyond.length === 1) {
    out.set('exceedance start', beyond[0]?.startS);
    out.set('exceedance end', beyond[0]?.endS);
    out.set('exceedance worst', beyond[0]?.worst);
  }
  for (const [name, phase] of [
    ['deviation 1', r.phases[1]],
    ['deviation 2', r.phases[3]],
  ] as const) {
    out.set(`${name} mean`, phase?.rateDeviation?.meanMps);
    out.set(`${name} rms`, phase?.rateDeviation?.rmsMps);
    out.set(`${name} peak`, phase?.rateDeviation?.peakMps);
  }
  out.set('contact time', r.contact?.timeS);
  out.set('contact closing rate', r.contact?.conditions.closing_rate);
  out.set('contact lateral offset', r.contact?.conditions.lateral_offset);
  out.set('contact lateral rate', r.contact?.conditions.lateral_rate);
  return new Map([...out].map(([name, figure]) => [name, figure ?? undefined]));
}

export function studyCase(kind: CalibrationCase, seeds: readonly number[]): CaseResult {
  const tallies = new Map<string, Tally>();
  const verdicts = new Map<string, number>();
  const otherPhases: number[] = [];
  let flights = 0;
  for (const seed of seeds) {
    const flight = calibrationFlight(seed, kind);
    const truth = trueFigures(flight);
    if (truth === null) continue;
    flights += 1;
    const { reconstruction } = reconstruct(flight.input, TEST_ENGINE);
    const motions = reconstruction.phases.map(({ motion }) => motion).join(' ');
    if (motions !== 'hold closing hold closing') {
      otherPhases.push(seed);
      continue;
    }
    const told = `${(truth.get('rate margin') ?? 0) < 0 ? 'broken' : 'met'} said ${reconstruction.rules[0]?.verdict}`;
    verdicts.set(told, (verdicts.get(told) ?? 0) + 1);
    const stated = statedFigures(reconstruction);
    const add = (name: string, error: number, half: number): void => {
      const tally = tallies.get(name) ?? { errors: [], halves: [] };
      tally.errors.push(error);
      tally.halves.push(half);
      tallies.set(name, tally);
    };
    for (const [name, want] of truth) {
      const figure = stated.get(name);
      if (figure === undefined || figure.value === null) continue;
      const half = halfWidth95(figure) ?? Number.NaN;
      if (name.startsWith('edge')) add('all edges', figure.value - want, half);
      add(name, figure.value - want, half);
    }
  }
  return { tallies, flights, otherPhases, verdicts };
}

export type Calibration = Readonly<{
  count: number;
  /** Share of intervals that hold the truth. */
  inside: number;
  medianHalf: number;
  /** 95 % quantile of the size of the error. */
  error95: number;
  /** `medianHalf / error95`. */
  ratio: number;
  meanError: number;
}>;

function quantile(values: readonly number[], p: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  const place = p * (sorted.length - 1);
  const low = sorted[Math.floor(place)] ?? Number.NaN;
  const high = sorted[Math.ceil(place)] ?? Number.NaN;
  return low + (place - Math.floor(place)) * (high - low);
}

export function calibrationOf({ errors, halves }: Tally): Calibration {
  const sizes = errors.map(Math.abs);
  const inside = sizes.filter((size, i) => size <= (halves[i] ?? Number.NaN)).length;
  const medianHalf = quantile(halves, 0.5);
  const error95 = quantile(sizes, 0.95);
  const meanError = errors.reduce((sum, each) => sum + each, 0) / errors.length;
  return {
    count: errors.length,
    inside: inside / errors.length,
    medianHalf,
    error95,
    ratio: medianHalf / error95,
    meanError,
  };
}
