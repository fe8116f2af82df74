/**
 * A small reconstruction made by hand for tests of what people see. Every number in it is invented;
 * none was computed, so it proves nothing about the numerics.
 *
 * The story: a hold at 100 m, an approach that stops unplanned at 45.9 m, opens to 52.1 m and
 * resumes to contact. The planned hold at 30 m is skipped. Six rules, one of each verdict and two met.
 */
import type { Figure } from '@/lib/core/figure';
import type { Annotation, Finding } from '@/lib/core/findings/finding';
import type {
  Callout,
  DerivedColumns,
  Phase,
  Reconstruction,
  SessionEvent,
} from '@/lib/core/reconstruction/reconstruction';
import type { Plan } from '@/lib/core/session/plan';
import type { Rule } from '@/lib/core/session/rule';

export const SAMPLE_SESSION_ID = 'sample-session';
const TELEMETRY = { file: 'telemetry.csv', sha256: 'a1'.repeat(32) };
const EVENTS = { file: 'events.csv', sha256: 'b2'.repeat(32) };
const VOICE = { file: 'loop.vtt', sha256: 'c3'.repeat(32) };
const DEG = Math.PI / 180;

/** Everything about a sample figure but its value, unit and half-width. */
type FigureMore = Partial<Pick<Figure, 'method' | 'reason'>> &
  Readonly<{ from?: number; to?: number; systematic?: number; channels?: readonly string[] }>;

/** A figure for a test: `random` is the half-width of the 95 % interval, null = not known. */
export function sampleFigure(
  value: number | null,
  unit: string,
  random: number | null = null,
  more: FigureMore = {},
): Figure {
  return {
    value,
    unit,
    uncertainty:
      random === null && more.systematic === undefined
        ? null
        : { random, systematic: more.systematic ?? null },
    method: more.method ?? 'Local quadratic fit over 2 s.',
    evidence: {
      sources: [TELEMETRY],
      channels: more.channels ?? ['x', 'y', 'z'],
      fromS: more.from ?? null,
      toS: more.to ?? null,
    },
    ...(more.reason === undefined ? {} : { reason: more.reason }),
  };
}

export const samplePlan: Plan = {
  title: 'Straight-in arrival',
  holdRateMps: 0.02,
  holdDwellS: 10,
  holdCrossSpeedMps: null,
  accelerationMps2: 0.01,
  contactAxialM: 0,
  steps: [
    { kind: 'hold', id: 'hold-100', holdM: 100, toleranceM: 3, plannedS: 90 },
    { kind: 'hold', id: 'hold-30', holdM: 30, toleranceM: 2, plannedS: 60 },
    {
      kind: 'move',
      id: 'approach',
      toM: 0,
      plannedS: 500,
      closingRateMps: [
        [100, 0.25],
        [20, 0.25],
        [12, 0.07],
        [0, 0.07],
      ],
      toleranceMps: 0.03,
    },
  ],
};

export const sampleRules: readonly Rule[] = [
  {
    id: 'closing-rate',
    statement: 'Closing rate stays at or under the braking profile.',
    kind: 'quantity',
    quantity: 'closing_rate',
    sense: 'at-most',
    limit: {
      kind: 'by-range',
      points: [
        [0, 0.1],
        [12, 0.1],
        [14, 0.3],
        [300, 0.4],
      ],
    },
    unit: 'm/s',
    within: { rangeM: [0, 300], axialM: null, step: null },
    persistsS: 2,
  },
  {
    id: 'corridor',
    statement: 'Lateral offset stays inside the approach cone.',
    kind: 'quantity',
    quantity: 'lateral_offset',
    sense: 'at-most',
    limit: { kind: 'cone', halfAngleRad: 3 * DEG, floorM: 0.25 },
    unit: 'm',
    within: { rangeM: null, axialM: [1.5, 80], step: null },
    persistsS: 2,
  },
  {
    id: 'cabin',
    statement: 'The cabin is configured before the approach starts.',
    kind: 'order',
    firstEvent: 'cabin-configured',
    // biome-ignore lint/suspicious/noThenProperty: the rule grammar's own word
    then: { kind: 'step-edge', step: 'approach', edge: 'start' },
    within: null,
    persistsS: 0,
  },
  {
    id: 'cut-off',
    statement: 'No crew command inside the command cut-off distance.',
    kind: 'never',
    event: 'crew-command',
    within: { rangeM: [0, 1.5], axialM: null, step: null },
    persistsS: 0,
  },
  {
    id: 'hold-30-length',
    statement: 'The hold at 30 m lasts no longer than 600 s.',
    kind: 'duration',
    step: 'hold-30',
    atMostS: 600,
    atLeastS: null,
    within: null,
    persistsS: 0,
  },
  {
    id: 'port-pressure',
    statement: 'Port pressure stays under 5 Pa during the approach.',
    kind: 'quantity',
    quantity: 'port_pressure',
    sense: 'at-most',
    limit: { kind: 'constant', value: 5 },
    unit: 'Pa',
    within: { rangeM: null, axialM: null, step: 'approach' },
    persistsS: 0,
  },
];

type PhaseNumbers = Readonly<{
  step: string | null;
  piece: number | null;
  motion: Phase['motion'];
  startS: number;
  endS: number;
  rangeM: readonly [number, number];
  peakMps: number;
}>;

function samplePhase(numbers: PhaseNumbers, rateDeviation: Phase['rateDeviation']): Phase {
  const { startS, endS, rangeM } = numbers;
  const stretch = { from: startS, to: endS };
  const durationS = endS - startS;
  return {
    step: numbers.step,
    piece: numbers.piece,
    motion: numbers.motion,
    startS: sampleFigure(startS, 's', startS === 0 ? 0 : 0.4, { from: startS, to: startS }),
    endS: sampleFigure(endS, 's', 0.4, { from: endS, to: endS }),
    durationS: sampleFigure(durationS, 's', 0.57, stretch),
    rangeStartM: sampleFigure(rangeM[0], 'm', 0.03, { from: startS, to: startS }),
    rangeEndM: sampleFigure(rangeM[1], 'm', 0.03, { from: endS, to: endS }),
    meanClosingRateMps: sampleFigure((rangeM[0] - rangeM[1]) / durationS, 'm/s', 0.0006, stretch),
    peakClosingRateMps: sampleFigure(numbers.peakMps, 'm/s', 0.003, stretch),
    rateDeviation,
  };
}

const phases: readonly Phase[] = [
  samplePhase(
    {
      step: 'hold-100',
      piece: 1,
      motion: 'hold',
      startS: 0,
      endS: 118.4,
      rangeM: [100.02, 99.98],
      peakMps: 0.012,
    },
    null,
  ),
  samplePhase(
    {
      step: 'approach',
      piece: 1,
      motion: 'closing',
      startS: 118.4,
      endS: 338.2,
      rangeM: [99.98, 45.9],
      peakMps: 0.41,
    },
    {
      meanMps: sampleFigure(0.0041, 'm/s', 0.0009, { from: 130, to: 326 }),
      rmsMps: sampleFigure(0.0162, 'm/s', 0.0011, { from: 130, to: 326 }),
      peakMps: sampleFigure(0.16, 'm/s', 0.003, { from: 200, to: 203.8 }),
      peakS: sampleFigure(201.2, 's', 0.4, { from: 200, to: 203.8 }),
      peakRangeM: sampleFigure(79.4, 'm', 0.03, { from: 200, to: 203.8 }),
      outsideToleranceS: sampleFigure(5.6, 's', 0.5, { from: 130, to: 326 }),
    },
  ),
  samplePhase(
    {
      step: null,
      piece: null,
      motion: 'hold',
      startS: 338.2,
      endS: 402.7,
      rangeM: [45.9, 45.9],
      peakMps: 0.018,
    },
    null,
  ),
  samplePhase(
    {
      step: null,
      piece: null,
      motion: 'opening',
      startS: 402.7,
      endS: 451.9,
      rangeM: [45.9, 52.1],
      peakMps: -0.02,
    },
    null,
  ),
  samplePhase(
    {
      step: 'approach',
      piece: 2,
      motion: 'closing',
      startS: 451.9,
      endS: 796.3,
      rangeM: [52.1, 0.03],
      peakMps: 0.262,
    },
    {
      meanMps: sampleFigure(-0.0087, 'm/s', 0.0008, { from: 464, to: 752 }),
      rmsMps: sampleFigure(0.0121, 'm/s', 0.001, { from: 464, to: 752 }),
      peakMps: sampleFigure(0.066, 'm/s', 0.003, { from: 700, to: 702.9 }),
      peakS: sampleFigure(700.6, 's', 0.4, { from: 700, to: 702.9 }),
      peakRangeM: sampleFigure(6.9, 'm', 0.03, { from: 700, to: 702.9 }),
      outsideToleranceS: sampleFigure(2.9, 's', 0.5, { from: 464, to: 752 }),
    },
  ),
];

const events: readonly SessionEvent[] = [
  [95.2, EVENTS.file, 2, 'cabin-configured', null, null],
  [110.5, VOICE.file, 5, null, 'All positions go for the approach.', 'Flight'],
  [203.1, VOICE.file, 8, null, 'Your rate is high.', 'Flight'],
  [231.9, VOICE.file, 11, null, 'Range 70 meters.', 'Crew'],
  [345, VOICE.file, 14, null, 'Holding here.', 'Crew'],
  [399, VOICE.file, 17, null, 'Back off to fifty.', 'Flight'],
  [655.4, VOICE.file, 20, null, 'Range 10 meters.', 'Crew'],
  [796.4, EVENTS.file, 3, 'contact', null, null],
  [803.1, EVENTS.file, 4, 'soft-capture', null, null],
].map(([timeS, source, line, event, text, speaker]) => ({
  timeS: Number(timeS),
  endS: null,
  source: String(source),
  line: Number(line),
  event: event === null ? null : String(event),
  text: text === null ? null : String(text),
  speaker: speaker === null ? null : String(speaker),
}));

const callouts: readonly Callout[] = [
  {
    timeS: 231.9,
    kind: 'range',
    said: sampleFigure(70, 'm'),
    telemetry: sampleFigure(72.1, 'm', 0.2, { from: 231.1, to: 231.1 }),
    difference: sampleFigure(-2.1, 'm', 0.2),
    text: 'Range 70 meters.',
    doubtful: false,
    source: VOICE.file,
    line: 9,
    nth: 1,
    review: null,
  },
  {
    timeS: 655.4,
    kind: 'range',
    said: sampleFigure(10, 'm'),
    telemetry: sampleFigure(9.95, 'm', 0.06, { from: 654.6, to: 654.6 }),
    difference: sampleFigure(0.05, 'm', 0.06),
    text: 'Range 10 meters.',
    doubtful: true,
    source: VOICE.file,
    line: 21,
    nth: 1,
    review: null,
  },
];

const atContact = { from: 795.3, to: 796.3, method: 'Mean over the last second before contact.' };

export const sampleReconstruction: Reconstruction = {
  format: 'wakeline/core-reconstruction/1',
  engine: 'sample',
  inputsSha256: 'd4'.repeat(32),
  session: {
    title: 'Heron 2 arrival',
    kind: 'flight',
    zeroUtc: '2016-03-08T09:12:30Z',
    // 2016-03-08T09:12:30 UTC is 1457428350 s of Unix time; TAI - UTC was 36 s.
    zeroTaiNs: '1457428386000000000',
    durationS: sampleFigure(930.2, 's', null, { from: 0, to: 930.2, method: 'Zero to last row.' }),
  },
  evaluated: { fromS: 0, toS: 796.3 },
  plan: samplePlan,
  ruleSet: sampleRules,
  sources: [
    {
      ...TELEMETRY,
      type: 'telemetry',
      rowsRead: 9302,
      rowsRejected: 3,
      clock: {
        offsetS: sampleFigure(0, 's', 0, { method: 'As stated.' }),
        driftPpm: sampleFigure(0, '1e-6', 0, { method: 'As stated.' }),
        residualRmsS: null,
        tiePointsUsed: 0,
        tiePointsRejected: 0,
        reason: null,
        evidence: null,
      },
      coverage: [0, 930.2],
    },
    {
      ...EVENTS,
      type: 'events',
      rowsRead: 3,
      rowsRejected: 0,
      clock: {
        offsetS: sampleFigure(0, 's', 0, { method: 'As stated.' }),
        driftPpm: sampleFigure(0, '1e-6', 0, { method: 'As stated.' }),
        residualRmsS: null,
        tiePointsUsed: 0,
        tiePointsRejected: 0,
        reason: null,
        evidence: null,
      },
      coverage: [95.2, 803.1],
    },
    {
      ...VOICE,
      type: 'events',
      rowsRead: 6,
      rowsRejected: 0,
      clock: {
        offsetS: sampleFigure(37.4, 's', 0.31, { method: 'Theil-Sen line through tie points.' }),
        driftPpm: sampleFigure(0, '1e-6', 310, { method: 'Theil-Sen line through tie points.' }),
        residualRmsS: 0.42,
        tiePointsUsed: 11,
        tiePointsRejected: 3,
        reason: 'Drift 120 ppm is under twice its standard error of 155 ppm and is taken as 0.',
        evidence: null,
      },
      coverage: [110.5, 655.4],
    },
  ],
  phases,
  steps: [
    {
      id: 'hold-100',
      pieces: 1,
      startS: sampleFigure(0, 's', 0, { from: 0, to: 118.4 }),
      endS: sampleFigure(118.4, 's', 0.4, { from: 0, to: 118.4 }),
      durationS: sampleFigure(118.4, 's', 0.4, { from: 0, to: 118.4 }),
      plannedS: 90,
      durationDeviationS: sampleFigure(28.4, 's', 0.4, { from: 0, to: 118.4 }),
      completed: true,
    },
    {
      id: 'hold-30',
      pieces: 0,
      startS: null,
      endS: null,
      durationS: null,
      plannedS: 60,
      durationDeviationS: null,
      completed: false,
    },
    {
      id: 'approach',
      pieces: 2,
      startS: sampleFigure(118.4, 's', 0.4, { from: 118.4, to: 796.3 }),
      endS: sampleFigure(796.3, 's', 0.4, { from: 118.4, to: 796.3 }),
      durationS: sampleFigure(677.9, 's', 0.57, { from: 118.4, to: 796.3 }),
      plannedS: 500,
      durationDeviationS: sampleFigure(177.9, 's', 0.57, { from: 118.4, to: 796.3 }),
      completed: true,
    },
  ],
  rules: [
    {
      id: 'closing-rate',
      verdict: 'broken',
      margin: sampleFigure(-0.0358, 'm/s', 0.0031, { from: 200, to: 203.8 }),
      instantMargin: sampleFigure(-0.0755, 'm/s', 0.003, { from: 200, to: 203.8 }),
      unit: 'm/s',
      reason: null,
      explanation: 'Beyond the limit twice, 6.7 s in all.',
      atS: 201.2,
    },
    {
      id: 'corridor',
      verdict: 'undecided',
      margin: sampleFigure(-0.02, 'm', 0.05, { from: 338.2, to: 402.7 }),
      instantMargin: sampleFigure(-0.03, 'm', 0.05, { from: 338.2, to: 402.7 }),
      unit: 'm',
      reason: null,
      explanation: 'The margin is smaller than its own uncertainty.',
      atS: 371,
    },
    {
      id: 'cabin',
      verdict: 'met',
      margin: sampleFigure(23.2, 's', 0.4, { from: 95.2, to: 118.4 }),
      instantMargin: null,
      unit: 's',
      reason: null,
      explanation: 'cabin-configured came 23.2 s before the approach started.',
      atS: 95.2,
    },
    {
      id: 'cut-off',
      verdict: 'met',
      margin: null,
      instantMargin: null,
      unit: null,
      reason: null,
      explanation: 'No crew-command among 2 events; none inside 1.5 m.',
      atS: null,
    },
    {
      id: 'hold-30-length',
      verdict: 'not applicable',
      margin: null,
      instantMargin: null,
      unit: 's',
      reason: 'step-not-flown',
      explanation: 'The step hold-30 was not flown.',
      atS: null,
    },
    {
      id: 'port-pressure',
      verdict: 'not evaluated',
      margin: null,
      instantMargin: null,
      unit: 'Pa',
      reason: 'no-such-channel',
      explanation: 'No source has a channel port_pressure.',
      atS: null,
    },
  ],
  exceedances: [
    {
      rule: 'closing-rate',
      startS: sampleFigure(200, 's', 0.3, { from: 200, to: 203.8 }),
      endS: sampleFigure(203.8, 's', 0.3, { from: 200, to: 203.8 }),
      durationS: sampleFigure(3.8, 's', 0.42, { from: 200, to: 203.8 }),
      worstS: sampleFigure(201.2, 's', 0.3, { from: 200, to: 203.8 }),
      worst: sampleFigure(0.41, 'm/s', 0.003, { from: 201.2, to: 201.2 }),
      limit: sampleFigure(0.3229, 'm/s', null, { from: 201.2, to: 201.2 }),
      unit: 'm/s',
      phase: 1,
    },
    {
      rule: 'closing-rate',
      startS: sampleFigure(700, 's', 0.3, { from: 700, to: 702.9 }),
      endS: sampleFigure(702.9, 's', 0.3, { from: 700, to: 702.9 }),
      durationS: sampleFigure(2.9, 's', 0.42, { from: 700, to: 702.9 }),
      worstS: sampleFigure(700.6, 's', 0.3, { from: 700, to: 702.9 }),
      worst: sampleFigure(0.136, 'm/s', 0.003, { from: 700.6, to: 700.6 }),
      limit: sampleFigure(0.1, 'm/s', null, { from: 700.6, to: 700.6 }),
      unit: 'm/s',
      phase: 4,
    },
  ],
  approach: null,
  navigation: null,
  contact: {
    timeS: sampleFigure(796.3, 's', 0.4, { from: 795.3, to: 796.3 }),
    basis: 'crossing',
    conditions: {
      closing_rate: sampleFigure(0.0741, 'm/s', 0.0009, atContact),
      lateral_offset: sampleFigure(0.0931, 'm', 0.003, { ...atContact, systematic: 0.01 }),
      lateral_rate: sampleFigure(0.0004, 'm/s', 0.0009, atContact),
      attitude_error_pitch_yaw: sampleFigure(0.21 * DEG, 'rad', 0.02 * DEG, atContact),
      attitude_error_roll: sampleFigure(0.11 * DEG, 'rad', 0.01 * DEG, atContact),
      body_rate_pitch_yaw: sampleFigure(0.02 * DEG, 'rad/s', 0.012 * DEG, atContact),
      body_rate_roll: sampleFigure(0.01 * DEG, 'rad/s', 0.012 * DEG, atContact),
    },
  },
  dispositions: [],
  capture: null,
  sequence: [],
  comparison: null,
  handling: { tasks: [], astray: [] },
  callouts,
  events,
  dataQuality: [
    {
      kind: 'gap',
      source: TELEMETRY.file,
      channel: null,
      startS: 260,
      endS: 285,
      note: 'No row for 25.0 s; the median step is 0.1 s.',
    },
    {
      kind: 'frozen',
      source: TELEMETRY.file,
      channel: 'roll_err',
      startS: 500,
      endS: 540,
      note: 'Repeats to the digit for 40.0 s.',
    },
  ],
  notes: [
    {
      code: 'not-computed',
      severity: 'note',
      message: 'Simulator runs were found (simulations/*.csv) and are not compared yet.',
    },
  ],
};

/** Range by the phases, linear inside each: enough for a line on a strip. */
function rangeAt(tS: number): number {
  const points: readonly (readonly [number, number])[] = [
    [0, 100.02],
    [118.4, 99.98],
    [338.2, 45.9],
    [402.7, 45.9],
    [451.9, 52.1],
    [612, 12],
    [796.3, 0.03],
    [930.2, 0.03],
  ];
  for (const [index, [endS, endM]] of points.entries()) {
    const before = points[index - 1];
    if (before === undefined || tS > endS) continue;
    return before[1] + ((tS - before[0]) / (endS - before[0])) * (endM - before[1]);
  }
  return 0.03;
}

function closingRateAt(tS: number): number {
  if (tS >= 200 && tS <= 203.8) return 0.41;
  if (tS >= 700 && tS <= 702.9) return 0.136;
  return rangeAt(tS - 0.5) - rangeAt(tS + 0.5);
}

const ROWS = 931;
const tS = Float64Array.from({ length: ROWS }, (_, row) => row);
const inGap = (t: number): boolean => t > 260 && t < 285;
const column = (name: string, label: string, unit: string, at: (t: number) => number) => ({
  name,
  label,
  unit,
  values: tS.map((t) => (inGap(t) ? Number.NaN : at(t))),
});
const across = (t: number): number => 0.02 * Math.sin(t / 40) + (t > 338 && t < 403 ? 2.3 : 0);

/** One row a second over the whole session; NaN inside the gap and after contact where not evaluated. */
export const sampleDerived: DerivedColumns = {
  tS,
  columns: [
    column('range', 'Range', 'm', rangeAt),
    column('closing_rate', 'Closing rate', 'm/s', closingRateAt),
    column('axial_distance', 'Axial distance', 'm', rangeAt),
    column('axial_closing_rate', 'Axial closing rate', 'm/s', closingRateAt),
    column('lateral_offset', 'Lateral offset', 'm', (t) => Math.abs(across(t))),
    column('planned_closing_rate', 'Planned closing rate', 'm/s', (t) =>
      t < 118.4 || t > 796.3 ? Number.NaN : rangeAt(t) > 20 ? 0.25 : 0.07,
    ),
    column('limit.closing-rate', 'Limit of closing-rate', 'm/s', (t) =>
      t > 796.3 ? Number.NaN : rangeAt(t) < 12 ? 0.1 : 0.3 + (rangeAt(t) - 14) * (0.1 / 286),
    ),
    column('limit.corridor', 'Limit of corridor', 'm', (t) =>
      rangeAt(t) < 1.5 || rangeAt(t) > 80
        ? Number.NaN
        : Math.max(0.25, rangeAt(t) * Math.tan(3 * DEG)),
    ),
  ],
};

export const sampleFindings: readonly Finding[] = [
  {
    id: 'finding-1',
    number: 1,
    version: 2,
    title: 'Closing rate beyond the profile after the first burn',
    seen: 'The rate rose to 0.41 m/s for some four seconds and came back by itself.',
    change: 'Check the minimum on-time of the aft jets.',
    kind: 'anomaly',
    severity: 'serious',
    state: 'accepted',
    anchor: { sessionId: SAMPLE_SESSION_ID, fromS: 195, toS: 210, channels: ['closing_rate'] },
    figures: [
      {
        key: 'exceedances[0].worst',
        label: 'Closing rate, worst',
        figure: sampleFigure(0.41, 'm/s', 0.003, { from: 200, to: 203.8 }),
      },
      {
        key: 'stretch.duration_s',
        label: 'Length of the stretch',
        figure: sampleFigure(15, 's', null, { from: 195, to: 210 }),
      },
    ],
    author: 'Local reviewer',
    createdAtIso: '2016-03-09T10:00:00.000Z',
    updatedAtIso: '2016-03-09T10:30:00.000Z',
  },
  {
    id: 'finding-2',
    number: 2,
    version: 1,
    title: 'Unplanned hold and back-off at 46 m',
    seen: 'Held for a minute, then opened by six metres before the approach resumed.',
    change: '',
    kind: 'observation',
    severity: 'minor',
    state: 'draft',
    anchor: { sessionId: SAMPLE_SESSION_ID, fromS: 338.2, toS: 451.9, channels: [] },
    figures: [],
    author: 'Local reviewer',
    createdAtIso: '2016-03-09T11:00:00.000Z',
    updatedAtIso: '2016-03-09T11:00:00.000Z',
  },
];

export const sampleAnnotations: readonly Annotation[] = [
  {
    id: 'annotation-1',
    version: 1,
    text: 'Lighting poor in the camera here.',
    anchor: { sessionId: SAMPLE_SESSION_ID, fromS: 300, toS: 330, channels: [] },
    author: 'Local reviewer',
    createdAtIso: '2016-03-09T11:10:00.000Z',
    updatedAtIso: '2016-03-09T11:10:00.000Z',
  },
];
