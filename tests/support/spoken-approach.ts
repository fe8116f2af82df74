/** An invented approach with what two people would say of its range, on a clock of their own. */
import type { ClockWord } from '@/lib/core/callouts/clock-words';
import type { RangeTrack } from '@/lib/core/callouts/range-passes';
import { seededRandom } from './seeded-random';

/** The clock of the log and the range bias (said minus measured, m). */
export type SpokenTruth = Readonly<{ offsetS: number; driftPpm: number; biasM: number }>;

export type SpokenApproach = Readonly<{
  track: RangeTrack;
  words: readonly ClockWord[];
  truth: SpokenTruth;
}>;

const LAG_S = 0.8;
const LAG_SD_S = 0.4;
/** The part of the lag's spread that is the speakers' own: the same through a log, s. */
const LAG_MEAN_SD_S = 0.1;
const STEP_S = 1;

type Leg = Readonly<{ toM: number; rateMps: number }> | Readonly<{ holdS: number }>;
type Random = () => number;

function normal(random: Random): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}

const between = (random: Random, low: number, high: number) => low + (high - low) * random();

/** Down from 250 m with holds, in one flight of two a retreat, the last 30 m slowly. */
function flownLegs(random: Random): readonly Leg[] {
  const stopM = Math.round(between(random, 90, 130));
  const retreat: readonly Leg[] =
    random() < 0.5
      ? [{ toM: stopM + 20, rateMps: between(random, 0.1, 0.25) }, { holdS: 120 }]
      : [];
  return [
    { holdS: between(random, 200, 500) },
    { toM: stopM, rateMps: between(random, 0.2, 0.35) },
    ...retreat,
    { holdS: between(random, 200, 600) },
    { toM: 30, rateMps: between(random, 0.12, 0.25) },
    { holdS: between(random, 200, 500) },
    { toM: 0, rateMps: between(random, 0.06, 0.1) },
  ];
}

function flyTrack(legs: readonly Leg[]): RangeTrack {
  const times: number[] = [0];
  const ranges: number[] = [250];
  let rangeM = 250;
  for (const leg of legs) {
    const speed = 'holdS' in leg ? 0 : leg.rateMps;
    const wayM = 'holdS' in leg ? 0 : leg.toM - rangeM;
    const steps = Math.round(('holdS' in leg ? leg.holdS : Math.abs(wayM) / speed) / STEP_S);
    for (let step = 1; step <= steps; step += 1) {
      times.push(times.length * STEP_S);
      ranges.push(rangeM + (wayM * step) / steps);
    }
    rangeM += wayM;
  }
  return { tS: Float64Array.from(times), rangeM: Float64Array.from(ranges) };
}

/** Where the instrument that the crew reads passes a value for the last time, s. */
function passTimes(track: RangeTrack, valueM: number): readonly number[] {
  const times: number[] = [];
  for (let row = 1; row < track.tS.length; row += 1) {
    const before = (track.rangeM[row - 1] ?? NaN) - valueM;
    const here = (track.rangeM[row] ?? NaN) - valueM;
    if (before === here || before * here > 0 || here === 0) continue;
    times.push((track.tS[row - 1] ?? NaN) + (STEP_S * before) / (before - here));
  }
  return times;
}

/** What is called when it is passed. */
const CALLED_M = [
  220, 200, 180, 160, 150, 140, 120, 100, 90, 80, 70, 60, 50, 40, 35, 25, 20, 15, 10, 8, 6, 5, 4, 3,
  2,
];

type Said = Readonly<{ valueM: number; momentS: number }>;

/** Calls at the moment of passing, by the instrument of the crew: measured plus bias. */
function calls(track: RangeTrack, biasM: number, random: Random): readonly Said[] {
  return CALLED_M.flatMap((valueM) => {
    const times = passTimes(track, valueM - biasM);
    const momentS = times[Math.floor(random() * times.length)];
    return momentS === undefined || random() < 0.3 ? [] : [{ valueM, momentS }];
  });
}

/** Readings at any moment, rounded to 5 m, near the port to 1 m. */
function readings(track: RangeTrack, biasM: number, random: Random): readonly Said[] {
  return Array.from({ length: 6 }, () => {
    const row = Math.floor(random() * track.tS.length);
    const rangeM = (track.rangeM[row] ?? 0) + biasM;
    const roundM = rangeM > 40 ? 5 : 1;
    return { valueM: Math.round(rangeM / roundM) * roundM, momentS: track.tS[row] ?? 0 };
  }).filter(({ valueM }) => valueM > 0);
}

/** Words that belong to no moment: a number misheard, a time far off. */
function blunders(said: readonly Said[], random: Random): readonly Said[] {
  const one = said[Math.floor(random() * said.length)] ?? { valueM: 50, momentS: 900 };
  return [
    { valueM: one.valueM + 10, momentS: one.momentS + between(random, 5, 15) },
    { valueM: between(random, 5, 200), momentS: between(random, 300, 2000) },
  ];
}

/** A spoken range as the fit takes it. */
export function rangeWord(valueM: number, sourceS: number, index: number): ClockWord {
  return {
    kind: 'range',
    label: `Range ${valueM} metres.`,
    line: index + 1,
    spokenIndex: index,
    sourceS,
    valueM,
    lagSdS: LAG_SD_S,
    fixed: false,
    candidates: [],
  };
}

/**
 * One approach with its log. Where the seed is even the crew reads another point's range, up to
 * 1.2 m off; where it is odd the one that telemetry holds.
 *
 * @param seed decides everything: flight, clock, bias, words and blunders
 */
export function spokenApproach(seed: number): SpokenApproach {
  const random = seededRandom(seed);
  const track = flyTrack(flownLegs(random));
  const otherPointM = between(random, -1.2, 1.2);
  const truth = {
    offsetS: between(random, -200, 200),
    driftPpm: between(random, -520, 520),
    biasM: seed % 2 === 0 ? otherPointM : 0,
  };
  const meanLagS = LAG_S + LAG_MEAN_SD_S * normal(random);
  const wordSdS = Math.sqrt(LAG_SD_S ** 2 - LAG_MEAN_SD_S ** 2);
  const said = [...calls(track, truth.biasM, random), ...readings(track, truth.biasM, random)];
  const words = [...said, ...blunders(said, random)].map(({ valueM, momentS }, index) => {
    const sessionS = momentS + Math.max(0.1, meanLagS + wordSdS * normal(random));
    const sourceS = (sessionS - truth.offsetS) / (1 + truth.driftPpm * 1e-6);
    return rangeWord(valueM, sourceS, index);
  });
  return { track, words, truth };
}
