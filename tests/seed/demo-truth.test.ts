import { createHash } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type ReconstructResult, reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { Issue } from '@/lib/core/result';
import { readSessionFolder } from '@/lib/server/session-folder';
import { RETRACTED_AFTER_S, RETRACTION_AFTER_S, SOFT_CAPTURE_AFTER_S } from '@/seed/capture-ring';
import { DEMO_FINDINGS } from '@/seed/demo-findings';
import { flyDemo } from '@/seed/fly';
import { rangeCrossingS } from '@/seed/logs';
import { flightFiles, writeDemoFolder } from '@/seed/make-demo';
import { BIAS_M, HAND_OVER_S, OLD_OFFSET_M } from '@/seed/navigation';
import { MANUAL_END_S, MANUAL_START_S } from '@/seed/pilot';
import { FROZEN_S, GAP_S } from '@/seed/telemetry-file';
import { truthCorridorMarginM, truthExceedances, truthRuns } from './demo-truth';

const truth = flyDemo();
const sha256 = (text: string) => createHash('sha256').update(text).digest('hex');
let scratch = '';
let result: ReconstructResult | null = null;
let issues: readonly Issue[] = [];

function reconstruction() {
  if (result === null) throw new Error('the demo was not reconstructed');
  return result.reconstruction;
}

beforeAll(async () => {
  scratch = await mkdtemp(path.join(tmpdir(), 'wakeline-truth-'));
  await writeDemoFolder(path.join(scratch, 'demo'), flightFiles());
  const samplesRoot = path.join(scratch, 'samples');
  const read = await readSessionFolder(path.join(scratch, 'demo'), { samplesRoot });
  issues = read.issues;
  if (read.input !== null) result = reconstruct(read.input, { engine: 'test', sha256 });
});
afterAll(async () => {
  await rm(scratch, { recursive: true, force: true });
});

test('the demo is read without a warning', () => {
  expect(issues.filter(({ severity }) => severity !== 'note')).toEqual([]);
});

test('phases are those of the noise-free flight, edges within 2 s', () => {
  const runs = truthRuns(truth);
  const { phases } = reconstruction();
  expect(phases.map(({ motion }) => motion)).toEqual(runs.map(({ motion }) => motion));
  expect(phases.map(({ step }) => step)).toEqual([
    'hold-300',
    'to-40',
    null,
    null,
    null,
    'to-40',
    'hold-40',
    'final',
  ]);
  phases.forEach((phase, index) => {
    expect(Math.abs((phase.startS.value ?? Number.NaN) - (runs[index]?.startS ?? 0))).toBeLessThan(
      2,
    );
    expect(Math.abs((phase.endS.value ?? Number.NaN) - (runs[index]?.endS ?? 0))).toBeLessThan(2);
  });
});

test('the one stretch over the braking profile is found where the axial jets stayed on', () => {
  const [wanted, ...more] = truthExceedances(truth);
  const { exceedances } = reconstruction();
  expect(more).toEqual([]);
  expect(exceedances.map(({ rule }) => rule)).toEqual(['closing-rate']);
  const [found] = exceedances;
  if (wanted === undefined || found === undefined) throw new Error('no exceedance');
  expect(Math.abs((found.startS.value ?? Number.NaN) - wanted.startS)).toBeLessThan(1);
  expect(Math.abs((found.endS.value ?? Number.NaN) - wanted.endS)).toBeLessThan(1);
  expect(Math.abs((found.worst.value ?? Number.NaN) - wanted.worstMps)).toBeLessThan(0.01);
});

/** The first hold lies before the hand-over, whose step is known to some cm only. */
test('the range of the first hold is the true one within its own half-width', () => {
  const range = reconstruction().phases[0]?.rangeStartM;
  const half = range?.uncertainty?.random ?? 0;
  const trueM = Math.hypot(
    ...(['x', 'y', 'z'] as const).map((axis) => truth.columns[axis][0] ?? 0),
  );
  expect(Math.abs((range?.value ?? Number.NaN) - trueM)).toBeLessThan(half);
  expect(half).toBeLessThan(0.06);
});

test('rules end as the flight was planted to end', () => {
  const verdicts = Object.fromEntries(
    reconstruction().rules.map(({ id, verdict }) => [id, verdict]),
  );
  expect(verdicts).toEqual({
    'closing-rate': 'broken',
    corridor: 'met',
    'final-rate': 'met',
    'far-closing-rate': 'not applicable',
    propellant: 'met',
    'go-first': 'met',
    'armed-first': 'met',
    'cut-off': 'met',
    'hold-40-length': 'broken',
    plume: 'not evaluated',
  });
  // Noise-free, 0.0800 m/s at 2 m under a bound of 0.09 m/s there, and 0.05 m/s below.
  const final = reconstruction().rules.find(({ id }) => id === 'final-rate')?.margin;
  const half = final?.uncertainty?.random ?? 0;
  expect(Math.abs((final?.value ?? Number.NaN) - 0.01)).toBeLessThan(half);
  expect(half).toBeLessThan(0.003);
  const corridor = reconstruction().rules.find(({ id }) => id === 'corridor');
  const margin = corridor?.instantMargin?.value ?? Number.NaN;
  expect(Math.abs(margin - truthCorridorMarginM(truth))).toBeLessThan(0.02);
});

test('contact is found where the port passes the plane of first touch', () => {
  const contact = reconstruction().contact;
  const row = Math.floor(truth.contactS * 10) - 5;
  expect(contact?.basis).toBe('crossing');
  expect(Math.abs((contact?.timeS.value ?? Number.NaN) - truth.contactS)).toBeLessThan(0.2);
  const rate = contact?.conditions.closing_rate?.value ?? Number.NaN;
  expect(Math.abs(rate + (truth.columns.vx[row] ?? 0))).toBeLessThan(0.002);
});

test('the gap, the frozen channel and the step at the hand-over are found, and no other fault', () => {
  const faults = reconstruction().dataQuality.map(({ kind, channel, startS, endS }) => ({
    kind,
    channel,
    startS: Math.round(startS),
    endS: Math.round(endS),
  }));
  expect(faults).toEqual([
    { kind: 'gap', channel: null, startS: GAP_S.fromS, endS: GAP_S.toS },
    { kind: 'frozen', channel: FROZEN_S.column, startS: FROZEN_S.fromS, endS: FROZEN_S.toS },
    { kind: 'step', channel: 'x', startS: HAND_OVER_S, endS: HAND_OVER_S },
  ]);
});

test('the hand-over steps by what was planted, and the rangefinder reads too long by its bias', () => {
  const { navigation } = reconstruction();
  const over = navigation?.steps.find(({ handOver }) => handOver?.to === 'docking camera');
  const x = over?.axes[0]?.positionM;
  const half = x?.uncertainty?.random ?? 0;
  expect(Math.abs((x?.value ?? Number.NaN) + OLD_OFFSET_M)).toBeLessThan(2 * half);
  expect(half).toBeLessThan(0.1);
  expect(navigation?.feeds.map(({ kind }) => kind)).toContain('propagated');
  const [pair] = navigation?.pairs ?? [];
  expect(pair?.second).toBe('rangefinder.csv');
  // Before the hand-over the solution is moved by the step as it was estimated, to some cm.
  expect(Math.abs((pair?.biasM.value ?? Number.NaN) - BIAS_M)).toBeLessThan(0.05);
});

test('each spoken range follows its crossing by the human lag, on session time', () => {
  const plain = reconstruction().callouts.filter(
    ({ kind, doubtful }) => kind === 'range' && !doubtful,
  );
  expect(plain.length).toBe(17);
  for (const { timeS, said } of plain) {
    const from = timeS < 1440 ? 0 : timeS < 2420 ? 1440 : 2420;
    const lagS = timeS - rangeCrossingS(truth, said.value ?? Number.NaN, from);
    expect(lagS).toBeGreaterThan(0);
    expect(lagS).toBeLessThan(2.4);
  }
});

test('each finding hangs on a stretch of the flight and on traces that exist', () => {
  const { derived } = result ?? { derived: { columns: [] } };
  const names = [...derived.columns.map(({ name }) => name), 'z', 'vz', 'hc_z', 'jet_x_on', 'mode'];
  for (const { fromS, toS, channels } of DEMO_FINDINGS) {
    expect(fromS).toBeLessThan(toS);
    expect(toS).toBeLessThan(truth.contactS);
    for (const channel of channels) expect(names).toContain(channel);
  }
});

test('capture is told apart: settling and the ring from the motion, the rest from the log', () => {
  const { capture, contact, sequence } = reconstruction();
  const stage = (name: string) => capture?.stages.find((one) => one.stage === name);
  const kinds = (name: string) => stage(name)?.seen.map(({ kind }) => kind);
  expect(kinds('soft_capture')).toEqual(['written', 'voice']);
  expect(kinds('damping')).toEqual(['motion', 'written', 'voice']);
  expect(kinds('ring_retraction')).toEqual(['motion', 'written', 'voice']);
  // The crew calls contact 0.4 s after it.
  expect(Math.abs((capture?.reportDelayS?.value ?? 0) - 0.4)).toBeLessThan(0.2);
  const after = (name: string) => stage(name)?.afterContactS?.value ?? Number.NaN;
  expect(Math.abs(after('soft_capture') - SOFT_CAPTURE_AFTER_S)).toBeLessThan(0.2);
  // The vehicle follows the ring by damping over stiffness, 0.5 / 0.35 = 1.43 s.
  const lagS = 0.5 / 0.35;
  expect(Math.abs(after('ring_retraction') - RETRACTION_AFTER_S - lagS)).toBeLessThan(2);
  const drawnS = capture?.retraction?.durationS.value ?? Number.NaN;
  expect(Math.abs(drawnS - (RETRACTED_AFTER_S - RETRACTION_AFTER_S))).toBeLessThan(3);
  expect(capture?.stages.map(({ outOfOrder }) => outOfOrder)).toEqual([null, null, null, null]);
  const at = sequence.map((item) => item.seen[0]?.timeS.value ?? item.plannedS?.value ?? 0);
  expect(at).toEqual([...at].sort((a, b) => a - b));
  const row = sequence.find(({ key }) => key === 'contact');
  expect(row?.seen.map(({ kind }) => kind)).toEqual(['motion', 'written', 'voice']);
  expect(row?.differenceS?.value).toBeCloseTo(
    (contact?.timeS.value ?? 0) - (360 + 910 + 300 + 430),
    6,
  );
});

test('the manual test is offered as a stretch by log, by mode and by each axis of the controller', () => {
  const manual = reconstruction().handling.manual ?? [];
  const one = (basis: string) => manual.filter((stretch) => stretch.basis === basis);
  for (const basis of ['log', 'mode']) {
    expect(one(basis)).toHaveLength(1);
    // Logged to a tenth of a second, and a row each.
    expect(Math.abs((one(basis)[0]?.fromS ?? Number.NaN) - MANUAL_START_S)).toBeLessThan(0.15);
    expect(Math.abs((one(basis)[0]?.toS ?? Number.NaN) - MANUAL_END_S)).toBeLessThan(0.15);
  }
  const axes = ['x', 'y', 'z'] as const;
  const columns = { x: 'handX', y: 'handY', z: 'handZ' } as const;
  for (const axis of axes) {
    const own = one('controller').filter(({ about }) => about.endsWith(`along ${axis}`));
    const times = truth.columns.timeS.filter((_, row) => truth.columns[columns[axis]][row] !== 0);
    expect(own[0]?.fromS).toBeCloseTo(times[0] ?? Number.NaN, 1);
    expect(own.at(-1)?.toS).toBeCloseTo(times.at(-1) ?? Number.NaN, 1);
  }
});
