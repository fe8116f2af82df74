/**
 * Two hundred runs of the last hold and the final approach, dispersed as one would before a flight:
 * where and how fast the hold is entered, how long it lasts, how well the alignment sensor is set.
 * The flight's sensor stood 35 mm off; the runs suppose 8 mm (standard deviation).
 */
import type { AttitudeAxis } from './attitude';
import { HOLD_NEAR } from './demo-plan';
import type { FlightTruth } from './flight-truth';
import { flyApproach } from './fly';
import { GUIDANCE_START, LEGS } from './guidance';
import { makeRandom, type RandomSource } from './random';
import { runCsv } from './telemetry-file';

export const RUN_COUNT = 200;
export const RUN_FILES = 'simulations/*.csv';

/** Runs begin at this session time: after everything that only the first hold has, s. */
const START_S = 1900;
const STEPS_A_ROW = 10;
const END_AFTER_CONTACT_S = 4;

function attitudeAt(random: RandomSource): readonly AttitudeAxis[] {
  return [0, 1, 2].map(() => ({
    errorDeg: 0.12 * random.normal(),
    rateDps: 0.004 * random.normal(),
  }));
}

/** The truth of one run, from 1. */
export function flyRun(number: number): FlightTruth {
  const random = makeRandom(880_000 + number);
  const legIndex = LEGS.findIndex(({ name }) => name === 'hold-near');
  const leg = LEGS[legIndex];
  const plannedS = leg?.kind === 'hold' ? leg.forS : 0;
  // The hold's own length is the flight's; a run is set into it so that some 30 to 60 s are left.
  const leftS = 30 + 30 * random.uniform();
  return flyApproach({
    state: {
      xM: HOLD_NEAR.holdM + 0.08 * random.normal(),
      yM: 0.06 * random.normal(),
      zM: 0.06 * random.normal(),
      vxMps: 0.0015 * random.normal(),
      vyMps: 0.0015 * random.normal(),
      vzMps: 0.0015 * random.normal(),
    },
    attitude: attitudeAt(random),
    guidance: {
      ...GUIDANCE_START,
      legIndex,
      legStartS: START_S - Math.round((plannedS - leftS) * 10) / 10,
      holdM: HOLD_NEAR.holdM,
    },
    misalignment: { yM: 0.008 * random.normal(), zM: 0.008 * random.normal() },
    seeds: { navigation: 881_000 + number, attitude: 882_000 + number },
    startS: START_S,
    endAfterContactS: END_AFTER_CONTACT_S,
    stepsARow: STEPS_A_ROW,
  });
}

/** File name and text of every run. */
export function simulatorRuns(): readonly (readonly [name: string, text: string])[] {
  return Array.from({ length: RUN_COUNT }, (_, index) => {
    const number = index + 1;
    const name = `simulations/run-${String(number).padStart(3, '0')}.csv`;
    return [name, runCsv(flyRun(number), 883_000 + 100 * number)] as const;
  });
}
