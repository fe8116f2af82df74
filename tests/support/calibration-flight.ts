/**
 * Simulated approaches whose noise-free motion is known in closed form, for the study of how well the
 * stated intervals hold. Two holds, two moves, a rate excursion in the first, a limit cycle in the
 * holds, lateral swings; all of it follows from the seed and none from a recorded flight.
 */
import type { Plan } from '@/lib/core/session/plan';
import type { QuantityRule } from '@/lib/core/session/rule';
import type { SessionInput } from '@/lib/core/session/session-input';
import { channel, gaussian, sessionOf, telemetrySource } from './flown-session';
import { seededRandom } from './seeded-random';

/**
 * How the excess of rate in the first move goes: up and back at 0.02 m/s2; up and back at once, 20 to 60 %
 * of the rate; or up at once and back along a straight line, as a jet and the control after it make.
 */
type ExcessShape = 'ramped' | 'flat' | 'falling';

export type CalibrationCase = Readonly<{
  velocity: 'measured' | 'none';
  noise: 'white' | 'correlated';
  excess: ExcessShape;
}>;

export const CASES: readonly CalibrationCase[] = [
  { velocity: 'measured', noise: 'white', excess: 'ramped' },
  { velocity: 'measured', noise: 'correlated', excess: 'ramped' },
  { velocity: 'none', noise: 'white', excess: 'ramped' },
  { velocity: 'none', noise: 'correlated', excess: 'ramped' },
  { velocity: 'none', noise: 'white', excess: 'flat' },
  { velocity: 'none', noise: 'correlated', excess: 'flat' },
  { velocity: 'none', noise: 'white', excess: 'falling' },
];

/** Noise-free state in the target port's axes, m and m/s. */
export type TrueState = Readonly<{
  x: number;
  y: number;
  z: number;
  vx: number;
  vy: number;
  vz: number;
}>;

export type CalibrationFlight = Readonly<{
  input: SessionInput;
  plan: Plan;
  rules: readonly [rate: QuantityRule, cone: QuantityRule];
  truthAt: (atS: number) => TrueState;
  /** Last row before contact, s. */
  lastRowS: number;
}>;

/** Time over which correlated noise hangs together (first-order process), s. */
export const CORRELATION_S = 20;
const HOLD_RATE_MPS = 0.02;
/** Rate of the limit cycle in the holds, to either side, m/s. */
const CYCLE_MPS = 0.003;

type Part = { forS: number; accelMps2: number; jumpMps: number };
type Swing = Readonly<{ sizeM: number; wRadPerS: number; phaseRad: number }>;

type Draw = (low: number, high: number) => number;

type Numbers = Readonly<{
  farM: number;
  midM: number;
  accelMps2: number;
  plannedMps: readonly [number, number];
  flownMps: readonly [number, number];
  excessMps: number;
  excessS: number;
  excessShare: number;
  holdS: readonly [number, number];
  cycleS: number;
  stepS: number;
}>;

function drawNumbers(draw: Draw): Numbers {
  const plannedMps = [draw(0.12, 0.3), draw(0.05, 0.1)] as const;
  return {
    farM: draw(80, 200),
    midM: draw(20, 40),
    accelMps2: draw(0.006, 0.02),
    plannedMps,
    flownMps: [plannedMps[0] * draw(0.9, 1.1), plannedMps[1] * draw(0.9, 1.1)],
    excessMps: draw(0.03, 0.1),
    excessS: draw(2, 15),
    excessShare: draw(0.3, 0.7),
    holdS: [draw(60, 150), draw(60, 150)],
    cycleS: draw(30, 60),
    stepS: [0.1, 0.2, 0.5][Math.floor(draw(0, 3))] ?? 0.2,
  };
}

/** A hold with small alternating rates, as thrusters with a deadband make; it ends at rest. */
function holdParts(forS: number, cycleS: number): Part[] {
  const count = 2 * Math.max(1, Math.round(forS / cycleS));
  return Array.from({ length: count + 1 }, (_, k): Part => {
    const isEnd = k === 0 || k === count;
    const jumpMps = (isEnd ? 1 : 2) * (k % 2 === 0 ? CYCLE_MPS : -CYCLE_MPS);
    return { forS: k === count ? 1 : forS / count, accelMps2: 0, jumpMps };
  });
}

/** The excess by itself, the way it adds (m) and how long it takes. */
type Excess = Readonly<{ parts: readonly Part[]; addsM: number; lastsS: number }>;

function excessOf({ excessMps, excessS, flownMps }: Numbers, shape: ExcessShape): Excess {
  if (shape === 'ramped') {
    const rampS = excessMps / 0.02;
    return {
      parts: [part(rampS, -0.02), part(excessS), part(rampS, 0.02)],
      addsM: excessMps * (excessS + rampS),
      lastsS: excessS + 2 * rampS,
    };
  }
  // 0.03 to 0.1 m/s of the numbers drawn become 20 to 60 % of the rate.
  const jumpMps = flownMps[0] * (0.2 + (0.4 * (excessMps - 0.03)) / 0.07);
  const isFlat = shape === 'flat';
  return {
    parts: [
      { forS: excessS, accelMps2: isFlat ? 0 : jumpMps / excessS, jumpMps: -jumpMps },
      { forS: 0, accelMps2: 0, jumpMps: isFlat ? jumpMps : 0 },
    ],
    addsM: jumpMps * excessS * (isFlat ? 1 : 0.5),
    lastsS: excessS,
  };
}

function part(forS: number, accelMps2 = 0): Part {
  return { forS, accelMps2, jumpMps: 0 };
}

function moveParts(numbers: Numbers, shape: ExcessShape): Part[] {
  const { accelMps2: a, flownMps, farM, midM, excessShare } = numbers;
  const [fast, slow] = flownMps;
  const rampS = fast / a;
  const excess = excessOf(numbers, shape);
  const runM = farM - midM - fast * rampS - excess.addsM;
  const flatS = (runM - fast * excess.lastsS) / fast;
  return [
    ...holdParts(numbers.holdS[0], numbers.cycleS),
    part(rampS, -a),
    part(flatS * excessShare),
    ...excess.parts,
    part(flatS * (1 - excessShare)),
    part(rampS, a),
    ...holdParts(numbers.holdS[1], numbers.cycleS),
    part(slow / a, -a),
    part(3600),
  ];
}

/** Axial motion by closed form; times asked may come in any order, near the last one is quick. */
function axialMotion(startM: number, parts: readonly Part[]) {
  const starts: { fromS: number; xM: number; vMps: number; a: number }[] = [];
  let fromS = 0;
  let xM = startM;
  let vMps = 0;
  for (const { forS, accelMps2, jumpMps } of parts) {
    vMps += jumpMps;
    starts.push({ fromS, xM, vMps, a: accelMps2 });
    xM += vMps * forS + 0.5 * accelMps2 * forS * forS;
    vMps += accelMps2 * forS;
    fromS += forS;
  }
  let at = 0;
  return (atS: number): Readonly<{ x: number; vx: number }> => {
    while (at + 1 < starts.length && (starts[at + 1]?.fromS ?? 0) <= atS) at++;
    while (at > 0 && (starts[at]?.fromS ?? 0) > atS) at--;
    const start = starts[at] ?? { fromS: 0, xM: startM, vMps: 0, a: 0 };
    const t = atS - start.fromS;
    return { x: start.xM + start.vMps * t + 0.5 * start.a * t * t, vx: start.vMps + start.a * t };
  };
}

function swings(draw: Draw): readonly Swing[] {
  return [draw(60, 110), draw(140, 260)].map((periodS) => ({
    sizeM: draw(0.01, 0.06),
    wRadPerS: (2 * Math.PI) / periodS,
    phaseRad: draw(0, 2 * Math.PI),
  }));
}

function swingAt(parts: readonly Swing[], atS: number): Readonly<{ p: number; v: number }> {
  let p = 0;
  let v = 0;
  for (const { sizeM, wRadPerS, phaseRad } of parts) {
    p += sizeM * Math.sin(wRadPerS * atS + phaseRad);
    v += sizeM * wRadPerS * Math.cos(wRadPerS * atS + phaseRad);
  }
  return { p, v };
}

/** Unit noise, one value a call: white, or mostly a first-order process with the rest white. */
function unitNoise(random: () => number, stepS: number, whiteShare: number): () => number {
  const keep = Math.exp(-stepS / CORRELATION_S);
  const fresh = Math.sqrt(1 - keep * keep);
  let level = gaussian(random);
  return () => {
    level = keep * level + fresh * gaussian(random);
    return Math.sqrt(1 - whiteShare) * level + Math.sqrt(whiteShare) * gaussian(random);
  };
}

function planOf(numbers: Numbers): Plan {
  const { farM, midM, plannedMps, accelMps2 } = numbers;
  return {
    title: 'Calibration',
    holdRateMps: HOLD_RATE_MPS,
    holdDwellS: 10,
    holdCrossSpeedMps: null,
    accelerationMps2: accelMps2,
    contactAxialM: 0,
    steps: [
      { kind: 'hold', id: 'far', holdM: farM, toleranceM: 5, plannedS: 100 },
      {
        kind: 'move',
        id: 'to-mid',
        toM: midM,
        plannedS: 500,
        closingRateMps: [
          [midM, plannedMps[0]],
          [farM, plannedMps[0]],
        ],
        toleranceMps: 0.03,
      },
      { kind: 'hold', id: 'mid', holdM: midM, toleranceM: 5, plannedS: 100 },
      {
        kind: 'move',
        id: 'final',
        toM: 0,
        plannedS: 400,
        closingRateMps: [
          [0, plannedMps[1]],
          [midM, plannedMps[1]],
        ],
        toleranceMps: 0.02,
      },
    ],
  };
}

function rulesOf(numbers: Numbers): readonly [QuantityRule, QuantityRule] {
  const common = { kind: 'quantity', statement: '', sense: 'at-most', within: null } as const;
  const limitMps = numbers.plannedMps[0] + 0.05;
  return [
    {
      ...common,
      id: 'rate',
      quantity: 'closing_rate',
      limit: { kind: 'constant', value: limitMps },
      unit: 'm/s',
      persistsS: 2,
    },
    {
      ...common,
      id: 'cone',
      quantity: 'lateral_offset',
      limit: { kind: 'cone', halfAngleRad: 0.05, floorM: 0.15 },
      unit: 'm',
      persistsS: 0,
    },
  ];
}

/**
 * The flight of a seed as a session folder once read, with its truth.
 *
 * The same seed flies the same motion in each case; noise is drawn anew from the same stream.
 */
export function calibrationFlight(seed: number, kind: CalibrationCase): CalibrationFlight {
  const random = seededRandom(7919 * seed + 13);
  const draw: Draw = (low, high) => low + (high - low) * random();
  const numbers = drawNumbers(draw);
  const axialAt = axialMotion(numbers.farM, moveParts(numbers, kind.excess));
  const [ySwings, zSwings] = [swings(draw), swings(draw)];
  const truthAt = (atS: number): TrueState => {
    const { x, vx } = axialAt(atS);
    const y = swingAt(ySwings, atS);
    const z = swingAt(zSwings, atS);
    return { x, y: y.p, z: z.p, vx, vy: y.v, vz: z.v };
  };
  const floorM = draw(0.005, 0.03);
  const perM = draw(0.0005, 0.002);
  const sdMps = draw(0.001, 0.005);
  const whiteShare = kind.noise === 'white' ? 1 : draw(0, 0.5);
  const noises = Array.from({ length: 6 }, () => unitNoise(random, numbers.stepS, whiteShare));
  const rows: number[][] = [];
  for (let k = 0; ; k++) {
    const atS = k * numbers.stepS;
    const s = truthAt(atS);
    if (s.x <= 0) break;
    const sdM = floorM + perM * s.x;
    const state = [s.x, s.y, s.z, s.vx, s.vy, s.vz];
    rows.push([
      atS,
      ...state.map((value, i) => value + (i < 3 ? sdM : sdMps) * (noises[i]?.() ?? 0)),
    ]);
  }
  const column = (i: number): Float64Array =>
    Float64Array.from(rows, (row) => row[i] ?? Number.NaN);
  const axes = ['x', 'y', 'z'];
  const channels = [
    ...axes.map((axis, i) => channel(axis, `position.${axis}`, 'm', column(1 + i))),
    ...(kind.velocity === 'none'
      ? []
      : axes.map((axis, i) => channel(`v${axis}`, `velocity.${axis}`, 'm/s', column(4 + i)))),
  ];
  const plan = planOf(numbers);
  const rules = rulesOf(numbers);
  const input = sessionOf([telemetrySource(column(0), channels)], plan, rules);
  return { input, plan, rules, truthAt, lastRowS: rows.at(-1)?.[0] ?? 0 };
}
