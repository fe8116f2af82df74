/**
 * An approach made by closed forms for tests of the reconstruction: true motion is known at any time,
 * samples are true values plus seeded noise. Everything in it is invented.
 */
import { createHash } from 'node:crypto';
import type { Plan } from '@/lib/core/session/plan';
import type { Rule } from '@/lib/core/session/rule';
import type {
  Channel,
  LogEntry,
  SessionInput,
  TelemetrySource,
} from '@/lib/core/session/session-input';
import { seededRandom } from './seeded-random';

/** A stretch of constant acceleration along the axis; `jumpMps` is added to the rate at its start. */
export type AxialPart = Readonly<{ forS: number; accelMps2?: number; jumpMps?: number }>;

export type AxialState = Readonly<{ xM: number; vMps: number }>;

/** True axial motion: piecewise constant acceleration, velocity positive away from the port. */
export function axialMotion(
  startM: number,
  parts: readonly AxialPart[],
): (atS: number) => AxialState {
  const starts: { fromS: number; xM: number; vMps: number; accelMps2: number }[] = [];
  let fromS = 0;
  let xM = startM;
  let vMps = 0;
  for (const part of parts) {
    vMps += part.jumpMps ?? 0;
    const accelMps2 = part.accelMps2 ?? 0;
    starts.push({ fromS, xM, vMps, accelMps2 });
    xM += vMps * part.forS + 0.5 * accelMps2 * part.forS ** 2;
    vMps += accelMps2 * part.forS;
    fromS += part.forS;
  }
  return (atS) => {
    const found = [...starts].reverse().find((start) => start.fromS <= atS) ?? starts[0];
    if (found === undefined) return { xM: startM, vMps: 0 };
    const t = atS - found.fromS;
    return {
      xM: found.xM + found.vMps * t + 0.5 * found.accelMps2 * t * t,
      vMps: found.vMps + found.accelMps2 * t,
    };
  };
}

/** Hold, close at a rate with 0.01 m/s2 ramps, hold: [holdS, ramp, run, ramp, holdS]. */
export function moveParts(rateMps: number, wayM: number, holdS: number): readonly AxialPart[] {
  const rampS = rateMps / 0.01;
  const rampM = 0.5 * rateMps * rampS;
  return [
    { forS: holdS },
    { forS: rampS, accelMps2: -0.01 },
    { forS: (wayM - 2 * rampM) / rateMps },
    { forS: rampS, accelMps2: 0.01 },
  ];
}

export type FlownOptions = Readonly<{
  axial: (atS: number) => AxialState;
  durationS: number;
  stepS?: number;
  seed?: number;
  /** Position noise as a share of range, with a floor of 1 cm. */
  positionNoise?: number;
  velocityNoiseMps?: number;
  lateralM?: readonly [amplitudeM: number, periodS: number];
  measuresVelocity?: 'yes' | 'no';
  plan?: Plan;
  rules?: readonly Rule[];
  entries?: readonly LogEntry[];
  /** Rows to take out, from and to, s. */
  gapS?: readonly [number, number];
}>;

export const FLOWN_PLAN: Plan = {
  title: 'Test arrival',
  holdRateMps: 0.02,
  holdDwellS: 10,
  holdCrossSpeedMps: null,
  accelerationMps2: 0.01,
  contactAxialM: 0,
  steps: [
    { kind: 'hold', id: 'hold-100', holdM: 100, toleranceM: 3, plannedS: 60 },
    {
      kind: 'move',
      id: 'to-30',
      toM: 30,
      plannedS: 370,
      closingRateMps: [
        [100, 0.2],
        [30, 0.2],
      ],
      toleranceMps: 0.03,
    },
    { kind: 'hold', id: 'hold-30', holdM: 30, toleranceM: 2, plannedS: 60 },
    {
      kind: 'move',
      id: 'final',
      toM: 0,
      plannedS: 400,
      closingRateMps: [
        [30, 0.08],
        [0, 0.08],
      ],
      toleranceMps: 0.02,
    },
  ],
};

/** A standard normal deviate from two uniform ones. Source: G. E. P. Box, M. E. Muller, 1958. */
export function gaussian(random: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}

const STATED_NOTHING: TelemetrySource['declared'] = {
  points: null,
  velocityFrame: null,
  leverArmM: null,
  stamp: null,
  latencyS: null,
  available: null,
  accuracy: null,
};

export function channel(name: string, as: string, unit: string, values: Float64Array): Channel {
  return { name, as, unit, values };
}

/** A telemetry source from its columns. */
export function telemetrySource(
  tS: Float64Array,
  channels: readonly Channel[],
  more: Partial<TelemetrySource> = {},
): TelemetrySource {
  return {
    type: 'telemetry',
    file: 'telemetry.csv',
    sha256: 'a'.repeat(64),
    clock: { kind: 'given', offsetS: 0, driftPpm: 0 },
    tS,
    channels,
    rowsRead: tS.length,
    rowsRejected: 0,
    stampFaults: [],
    declared: STATED_NOTHING,
    ...more,
  };
}

export function sessionOf(
  sources: SessionInput['sources'],
  plan: Plan | null,
  rules: readonly Rule[] = [],
): SessionInput {
  return {
    title: 'Test',
    kind: 'simulation',
    zero: { taiNs: 0n },
    zeroUtc: '2031-01-01T00:00:00Z',
    plan,
    planSha256: plan === null ? null : 'b'.repeat(64),
    rules,
    rulesSha256: rules.length === 0 ? null : 'c'.repeat(64),
    sources,
    notComputed: [],
  };
}

/** True lateral motion: y a sine, z its cosine at 0.6 of the size. */
export function lateralTruth(options: FlownOptions, atS: number) {
  const [amplitudeM, periodS] = options.lateralM ?? [0.1, 90];
  const w = (2 * Math.PI) / periodS;
  return {
    yM: amplitudeM * Math.sin(w * atS),
    zM: 0.6 * amplitudeM * Math.cos(w * atS),
    vyMps: amplitudeM * w * Math.cos(w * atS),
    vzMps: -0.6 * amplitudeM * w * Math.sin(w * atS),
  };
}

/** The telemetry of a flight: rows until the duration or until the port is reached. */
export function flownTelemetry(options: FlownOptions): TelemetrySource {
  const stepS = options.stepS ?? 0.2;
  const random = seededRandom(options.seed ?? 1);
  const times: number[] = [];
  const rows: number[][] = [];
  for (let k = 0; k * stepS <= options.durationS; k++) {
    const atS = k * stepS;
    const { xM, vMps } = options.axial(atS);
    if (xM <= 0) break;
    const side = lateralTruth(options, atS);
    const noiseM = 0.01 + (options.positionNoise ?? 0.001) * xM;
    const noiseMps = options.velocityNoiseMps ?? 0.002;
    const p = [xM, side.yM, side.zM].map((value) => value + noiseM * gaussian(random));
    const v = [vMps, side.vyMps, side.vzMps].map((value) => value + noiseMps * gaussian(random));
    const gap = options.gapS;
    if (gap !== undefined && atS > gap[0] && atS < gap[1]) continue;
    times.push(atS);
    rows.push([...p, ...v]);
  }
  const column = (index: number): Float64Array =>
    Float64Array.from(rows, (row) => row[index] ?? Number.NaN);
  const axes = ['x', 'y', 'z'];
  const positions = axes.map((axis, i) => channel(axis, `position.${axis}`, 'm', column(i)));
  const velocities = axes.map((axis, i) =>
    channel(`v${axis}`, `velocity.${axis}`, 'm/s', column(3 + i)),
  );
  const channels = options.measuresVelocity === 'no' ? positions : [...positions, ...velocities];
  return telemetrySource(Float64Array.from(times), channels);
}

/** A whole session of one flight, with a log where entries are given. */
export function flownSession(options: FlownOptions): SessionInput {
  const log = options.entries;
  return sessionOf(
    [
      flownTelemetry(options),
      ...(log === undefined
        ? []
        : [
            {
              type: 'events' as const,
              file: 'events.csv',
              sha256: 'd'.repeat(64),
              clock: { kind: 'given' as const, offsetS: 0, driftPpm: 0 },
              entries: log,
              rowsRead: log.length,
              rowsRejected: 0,
            },
          ]),
    ],
    options.plan ?? FLOWN_PLAN,
    options.rules ?? [],
  );
}

/** The arrival of `FLOWN_PLAN` flown as planned: 100 m, 30 m, port. */
export function plannedArrival(): (atS: number) => AxialState {
  return axialMotion(100, [
    ...moveParts(0.2, 70, 60),
    { forS: 60 },
    { forS: 8, accelMps2: -0.01 },
    { forS: 1000 },
  ]);
}

export const TEST_ENGINE = {
  engine: 'test',
  sha256: (text: string): string => createHash('sha256').update(text, 'utf8').digest('hex'),
};

/** Thirty metres closed at 8 cm/s after half a minute of hold, a row a second: one flight or run a seed. */
export const flownFinal = (seed: number): TelemetrySource =>
  flownTelemetry({
    axial: axialMotion(30, moveParts(0.08, 32, 40)),
    durationS: 500,
    stepS: 1,
    seed,
  });
