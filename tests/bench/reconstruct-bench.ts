/** Reconstruction of a long session in memory: 1.5 million rows of 24 channels, with plan and rules. */
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { QuantityRule } from '@/lib/core/session/rule';
import type { SessionInput } from '@/lib/core/session/session-input';
import {
  axialMotion,
  channel,
  FLOWN_PLAN,
  moveParts,
  sessionOf,
  TEST_ENGINE,
  telemetrySource,
} from '../support/flown-session';
import { RATE_RULE } from '../support/rate-rule';
import { seededRandom } from '../support/seeded-random';
import { type Bench, median } from './bench';

const ROWS = 1_500_000;
const CHANNELS = 24;
const ROUNDS = 3;
/** The whole approach at about 1 kHz. */
const STEP_S = 0.001;

/** Near enough to a normal deviate for a bench: three uniform ones. */
function noiseOf(seed: number): () => number {
  const random = seededRandom(seed);
  return () => 2 * (random() + random() + random() - 1.5);
}

function column(value: (atS: number, row: number) => number, sd: number, seed: number) {
  const noise = noiseOf(seed);
  const out = new Float64Array(ROWS);
  for (let row = 0; row < ROWS; row++) out[row] = value(row * STEP_S, row) + sd * noise();
  return out;
}

export function longSession(): SessionInput {
  const axial = axialMotion(100, [
    ...moveParts(0.2, 70, 60),
    { forS: 60 },
    { forS: 8, accelMps2: -0.01 },
    { forS: 2000 },
  ]);
  const xM = new Float64Array(ROWS);
  const vMps = new Float64Array(ROWS);
  for (let row = 0; row < ROWS; row++) {
    const state = axial(row * STEP_S);
    xM[row] = Math.max(0.01, state.xM);
    vMps[row] = state.xM > 0.01 ? state.vMps : 0;
  }
  const side = (atS: number): number => 0.1 * Math.sin(atS / 15);
  const channels = [
    channel(
      'x',
      'position.x',
      'm',
      column((_, row) => xM[row] ?? 0, 0.02, 1),
    ),
    channel('y', 'position.y', 'm', column(side, 0.02, 2)),
    channel('z', 'position.z', 'm', column(side, 0.02, 3)),
    channel(
      'vx',
      'velocity.x',
      'm/s',
      column((_, row) => vMps[row] ?? 0, 0.002, 4),
    ),
    channel(
      'vy',
      'velocity.y',
      'm/s',
      column((atS) => (0.1 / 15) * Math.cos(atS / 15), 0.002, 5),
    ),
    channel(
      'vz',
      'velocity.z',
      'm/s',
      column((atS) => (0.1 / 15) * Math.cos(atS / 15), 0.002, 6),
    ),
  ];
  for (const [index, axis] of ['roll', 'pitch', 'yaw'].entries()) {
    channels.push(
      channel(
        `${axis}_err`,
        `attitude_error.${axis}`,
        'rad',
        column(() => 0.01, 0.002, 7 + index),
      ),
      channel(
        `${axis}_rate`,
        `body_rate.${axis}`,
        'rad/s',
        column(() => 0, 0.0005, 10 + index),
      ),
    );
  }
  for (const axis of ['x', 'y', 'z']) {
    const onS = Float64Array.from({ length: ROWS }, (_, row) => Math.floor(row / 20_000));
    const stick = Float64Array.from({ length: ROWS }, (_, row) => (row % 90_000 < 2000 ? 1 : 0));
    channels.push(channel(`jet_${axis}`, `jet_on_time.${axis}`, 's', onS));
    channels.push(channel(`hc_${axis}`, `hand_controller.${axis}`, '1', stick));
  }
  while (channels.length < CHANNELS) {
    const name = `sensor_${channels.length}`;
    channels.push(channel(name, name, '1', column(Math.sin, 0.1, 20 + channels.length)));
  }
  const tS = Float64Array.from({ length: ROWS }, (_, row) => row * STEP_S);
  const cone: QuantityRule = {
    ...RATE_RULE,
    id: 'cone',
    quantity: 'lateral_offset',
    limit: { kind: 'cone', halfAngleRad: 0.05, floorM: 0.2 },
    unit: 'm',
    persistsS: 0,
  };
  return sessionOf([telemetrySource(tS, channels)], FLOWN_PLAN, [RATE_RULE, cone]);
}

export const reconstructBench: Bench = {
  name: 'reconstruct',
  run: async (say) => {
    say('making the session');
    const input = longSession();
    const seconds: number[] = [];
    for (let round = 1; round <= ROUNDS; round++) {
      // Processor time: other work on the machine is none of it.
      const before = process.cpuUsage();
      const start = performance.now();
      const { reconstruction } = reconstruct(input, TEST_ENGINE);
      const { user, system } = process.cpuUsage(before);
      if (reconstruction.phases.length < 4) throw new Error('the phases were not found');
      seconds.push(Math.min((user + system) / 1e6, (performance.now() - start) / 1000));
      say(`round ${round} of ${ROUNDS}: ${seconds.at(-1)?.toFixed(2)} s`);
    }
    return [
      {
        what: 'reconstruction of 1.5 million rows of 24 channels',
        unit: 's',
        measured: median(seconds),
        reference: 3,
        against: 'its limit',
        must: 1,
        aim: 0.17,
        detail: `median of ${ROUNDS}, in memory, the smaller of processor and wall time`,
      },
    ];
  },
};
