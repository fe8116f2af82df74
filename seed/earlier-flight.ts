/**
 * The flight before: Wherry 1, nine weeks earlier, flown by the same simulator without faults and kept at
 * a row a second. Its hold at 40 m was cut short and its capture ring armed late; rules came of both.
 */
import { clockText, utcText } from './demo-clock';
import { FINAL, HOLD_FAR, HOLD_NEAR, MOVE_NEAR, planYaml } from './demo-plan';
import type { FlightTruth } from './flight-truth';
import { flyApproach } from './fly';
import { GUIDANCE_START, type Leg } from './guidance';
import { rangeCrossingS } from './logs';
import { CHANNEL_LINES, rulesYaml } from './session-files';
import { slowTelemetryCsv } from './telemetry-file';

export const EARLIER_TITLE = 'Wherry 1 arrival at Farpier (invented demo, the flight before)';
const DAY = '2027-02-02';

/** The simulator's time at session zero, s: after everything that only the demo's first hold has. */
const START_S = 400;
const LEGS: readonly Leg[] = [
  { kind: 'hold', name: 'hold-far', atM: HOLD_FAR.holdM, forS: 355 },
  { kind: 'approach', name: 'approach', toM: MOVE_NEAR.toM },
  { kind: 'hold', name: 'hold-near', atM: HOLD_NEAR.holdM, forS: 84 },
  { kind: 'approach', name: 'final', toM: FINAL.toM },
];
/** The ring was armed here, m: nobody had been asked to do it before. */
export const ARMED_AT_M = 4;

/** Its noise-free columns; times are the simulator's. */
export function flyEarlier(): FlightTruth {
  return flyApproach({
    state: { xM: 299.9, yM: -0.08, zM: 0.05, vxMps: 0.001, vyMps: 0.0005, vzMps: -0.001 },
    attitude: [
      { errorDeg: -0.1, rateDps: 0.004 },
      { errorDeg: 0.08, rateDps: 0.005 },
      { errorDeg: -0.15, rateDps: -0.004 },
    ],
    guidance: { ...GUIDANCE_START, legs: LEGS, legStartS: START_S },
    misalignment: { yM: 0.006, zM: -0.009 },
    seeds: { navigation: 20270202, attitude: 20270203 },
    startS: START_S,
    endAfterContactS: 40,
    stepsARow: 10,
  });
}

/** Moments of the flight on session time, s. */
export function earlierMoments(truth: FlightTruth) {
  const leg = (name: string): number => (truth.legStartS[name] ?? Number.NaN) - START_S;
  return {
    approachS: leg('approach'),
    holdNearS: leg('hold-near'),
    finalS: leg('final'),
    armedS: rangeCrossingS(truth, ARMED_AT_M, START_S) - START_S,
    contactS: truth.contactS - START_S,
  };
}

function eventsCsv(truth: FlightTruth): string {
  const { approachS, holdNearS, finalS, armedS, contactS } = earlierMoments(truth);
  const rows: readonly (readonly [timeS: number, event: string, speaker: string, text: string])[] =
    [
      [approachS - 6, 'go-approach', 'DIRECTOR', 'Go for the approach to forty.'],
      [holdNearS + 31, 'poll', 'DIRECTOR', 'All positions, go or no go for the final approach.'],
      [holdNearS + 36.4, 'poll-answer', 'STATION', 'Station is go.'],
      [holdNearS + 41.2, 'poll-answer', 'GUIDANCE', 'Guidance is go.'],
      [holdNearS + 47.5, 'poll-answer', 'PROPULSION', 'Propulsion is go.'],
      [holdNearS + 76, 'go-final', 'DIRECTOR', 'You are go for the final approach.'],
      [finalS + 74, 'cameras-set', 'STATION', 'Cameras are set now, you left early for us.'],
      [armedS, 'capture-armed', 'CAPTURE', 'Ring was not armed. It is armed now.'],
      [contactS + 0.5, 'contact', 'PILOT', 'Contact.'],
      [contactS + 5.1, 'soft-capture', 'CAPTURE', 'Soft capture.'],
    ];
  const lines = rows.map(([timeS, event, speaker, text]) => {
    const stamp = clockText(Math.round(timeS * 10) * 100).slice(0, -2);
    return `${stamp},${event},${speaker},"${text}"`;
  });
  return ['elapsed,event,speaker,text', ...lines, ''].join('\n');
}

const SESSION = `# An invented flight: vehicle, station and people do not exist.
title: ${EARLIER_TITLE}
kind: flight
zero: ${utcText(0, DAY)}
sources:
  - file: telemetry.csv
    type: telemetry
    time: { column: utc, code: iso8601, scale: UTC }
    channels:
${CHANNEL_LINES}    points: port to port
  - file: events.csv
    type: events
    time: { column: elapsed, code: elapsed-dhms }
plan: plan.yaml
rules: rules.yaml
`;

/** Rules of that time: those that its own findings led to came later. */
const RULES = [
  'closing-rate',
  'corridor',
  'far-closing-rate',
  'propellant',
  'go-first',
  'cut-off',
  'plume',
];

/** File name and text of every file of the flight before. */
export function earlierFiles(truth: FlightTruth): ReadonlyMap<string, string> {
  const stampOf = (timeS: number): string => utcText(timeS - START_S, DAY);
  return new Map([
    ['session.yaml', SESSION],
    ['plan.yaml', planYaml()],
    ['rules.yaml', rulesYaml(RULES)],
    ['telemetry.csv', slowTelemetryCsv(truth, { firstSeed: 4400, stampOf })],
    ['events.csv', eventsCsv(truth)],
  ]);
}
