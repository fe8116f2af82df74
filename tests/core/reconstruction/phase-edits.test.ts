import { expect, test } from 'vitest';
import { type Figure, halfWidth95 } from '@/lib/core/figure';
import { reconstructionFile } from '@/lib/core/reconstruction/contract-file';
import { knownBy } from '@/lib/core/reconstruction/known-by';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { PhaseEdit } from '@/lib/core/session/phase-edit';
import type { Rule } from '@/lib/core/session/rule';
import { expectWithin } from '../../support/expect-within';
import { flownSession, plannedArrival, TEST_ENGINE } from '../../support/flown-session';
import { RATE_RULE } from '../../support/rate-rule';

const LENGTH: Rule = {
  kind: 'duration',
  id: 'hold-length',
  statement: 'The first hold lasts a minute at most.',
  step: 'hold-100',
  atMostS: 65,
  atLeastS: null,
  within: null,
  persistsS: 0,
};
const IN_HOLD: Rule = {
  ...RATE_RULE,
  id: 'slow-in-hold',
  within: { rangeM: null, axialM: null, step: 'hold-100' },
};
const flight = flownSession({
  axial: plannedArrival(),
  durationS: 880,
  stepS: 0.5,
  rules: [LENGTH, IN_HOLD, { ...RATE_RULE, id: 'everywhere' }],
});
const run = (phaseEdits?: readonly PhaseEdit[]) =>
  reconstruct(phaseEdits === undefined ? flight : { ...flight, phaseEdits }, TEST_ENGINE);

const halfOf = (figure: Figure | undefined) =>
  figure === undefined ? Number.NaN : halfWidth95(figure);

const plain = run().reconstruction;
const [hold, closing] = plain.phases;
const edgeS = closing?.startS.value ?? Number.NaN;
const said = { by: 'Ada', reason: 'braking began later' };
const MOVE: PhaseEdit = {
  kind: 'move-edge',
  edgeS,
  before: 'hold',
  after: 'closing',
  toS: edgeS + 10,
  sdS: 1,
  ...said,
};

test('a moved edge changes durations, deviations and what is judged in the step', () => {
  const { reconstruction } = run([MOVE]);
  const [holdNow, closingNow] = reconstruction.phases;
  expect(holdNow?.durationS.value).toBeCloseTo((hold?.durationS.value ?? 0) + 10, 9);
  expect(closingNow?.durationS.value).toBeCloseTo((closing?.durationS.value ?? 0) - 10, 9);
  const step = reconstruction.steps[0]?.durationDeviationS?.value ?? 0;
  expect(step).toBeCloseTo((plain.steps[0]?.durationDeviationS?.value ?? 0) + 10, 9);
  expect(plain.rules[0]?.verdict).toBe('met');
  expect(reconstruction.rules[0]?.verdict).toBe('broken');
  expect(reconstruction.rules[0]?.margin?.value).toBeCloseTo(
    (plain.rules[0]?.margin?.value ?? 0) - 10,
    9,
  );
  // Ten seconds at 0.01 m/s2 from 0.02 m/s: the fastest moment of the hold is now 0.12 m/s.
  const margin = (index: typeof plain) => index.rules[1]?.instantMargin?.value ?? Number.NaN;
  expectWithin(margin(plain) - margin(reconstruction), 0.1, 0.01, 'noise of the rate, a row');
  expect(reconstruction.rules[2]).toEqual(plain.rules[2]);
});

test('a moved edge says who set it, why and what was computed; its interval is what the person states', () => {
  const { reconstruction } = run([MOVE]);
  const { startS, startSet } = reconstruction.phases[1] ?? {};
  expect(startS?.method).toMatch(
    /^Set by Ada: braking began later\. Computed was 00:01:0\d\.\d+ ± \d\.\d+ s\.$/,
  );
  expectWithin(halfOf(startS), 1.96, 0.005, 'normal table, two decimals');
  expect(startSet?.computedS).toEqual(closing?.startS);
  for (const figure of [
    reconstruction.phases[0]?.durationS,
    reconstruction.phases[1]?.rangeStartM,
    reconstruction.steps[1]?.durationDeviationS,
    reconstruction.rules[0]?.margin,
  ]) {
    expect(figure?.evidence.people?.join(' ')).toMatch(/set by Ada: braking began later\./);
  }
  expect(reconstruction.rules[0]?.explanation).toMatch(/End of Hold 100, set by Ada/);
  expect(reconstruction.notes.at(-1)?.message).toMatch(
    /^Set by people, not computed: Edge from Hold 100 to To 30 \(Ada\)\./,
  );
  expect(reconstruction.phases[3]?.durationS).toEqual(plain.phases[3]?.durationS);
  const none = run([{ ...MOVE, sdS: null }]).reconstruction.phases[1];
  expect(none?.startS.uncertainty).toBeNull();
  expect(none?.startS.reason).toBe('Ada stated no uncertainty.');
  expect(halfOf(none?.durationS)).toBeNull();
});

test('stations, time to go and deviations of the approach say what they rest on, others do not', () => {
  const { approach, phases } = run([MOVE]).reconstruction;
  const stations = approach?.stations ?? [];
  const at = (of: number) => stations.find((each) => each.kind === 'run-start' && each.of === of);
  const isMarked = (figure: Figure | null | undefined) => figure?.evidence.people !== undefined;
  expect([at(1)?.timeS, at(1)?.rangeM, at(1)?.toGoByPlanS].map(isMarked)).toEqual([
    true,
    true,
    true,
  ]);
  expect([at(3)?.timeS, at(3)?.rangeM, at(3)?.toGoByPlanS].map(isMarked)).toEqual([
    false,
    false,
    false,
  ]);
  const inStep = stations.filter(
    ({ kind, timeS }) =>
      kind === 'range' &&
      (timeS.value ?? 0) > (phases[1]?.startS.value ?? 0) &&
      (timeS.value ?? 0) < (phases[1]?.endS.value ?? 0),
  );
  expect(inStep.length).toBeGreaterThan(0);
  expect(
    inStep.every(({ toGoByPlanS, rangeM }) => isMarked(toGoByPlanS) && !isMarked(rangeM)),
  ).toBe(true);
  const steps = new Map(approach?.deviations.map(({ step, meanMps }) => [step, isMarked(meanMps)]));
  expect([...steps]).toEqual([
    ['to-30', true],
    ['final', false],
  ]);
  const before = JSON.stringify(plain.approach);
  expect(before).not.toContain('"people"');
});

test('a comparison of a step whose start a person moved says so, of the flight and not of the runs', () => {
  const [source] = flight.sources;
  if (source?.type !== 'telemetry') throw new Error('the flight has telemetry');
  const simulations = {
    files: 'run-*.csv',
    like: source.file,
    sha256: 'b'.repeat(64),
    runs: [{ ...source, file: 'run-1.csv' }],
  };
  const startS = plain.phases[3]?.startS.value ?? Number.NaN;
  const moved: PhaseEdit = { ...MOVE, edgeS: startS, toS: startS + 3 };
  const input = { ...flight, simulations };
  const { comparison } = reconstruct({ ...input, phaseEdits: [moved] }, TEST_ENGINE).reconstruction;
  const [score] = comparison?.scores ?? [];
  const [quantity] = comparison?.quantities ?? [];
  expect(score?.flight.evidence.people?.join(' ')).toMatch(/^Start of Final, set by Ada/);
  expect(score?.simMedian.evidence.people).toBeUndefined();
  expect(quantity?.flightPlaces.evidence.people).toHaveLength(1);
  expect(quantity?.pairs[0]?.bias.evidence.people).toHaveLength(1);
  expect(quantity?.bandPlaces.evidence.people).toBeUndefined();
  const none = reconstruct({ ...input, phaseEdits: [] }, TEST_ENGINE).reconstruction.comparison;
  expect(JSON.stringify(none)).not.toContain('"people"');
});

test('with all of them undone every figure is the old one to the bit', () => {
  const undone = run([]).reconstruction;
  expect({ ...undone, inputsSha256: '' }).toEqual({ ...plain, inputsSha256: '' });
  expect(JSON.stringify(run().reconstruction)).toBe(JSON.stringify(plain));
});

test('a correction that does not fit is listed with its reason and changes nothing else', () => {
  const { reconstruction } = run([{ ...MOVE, edgeS: edgeS + 60 }]);
  const { phaseEdits, notes, ...rest } = reconstruction;
  expect(phaseEdits?.results[0]?.outcome.state).toBe('not applied');
  expect(phaseEdits?.results[0]?.outcome.fault).toMatch(/^there is no edge from hold to closing/);
  const { notes: before, ...same } = plain;
  expect({ ...rest, inputsSha256: '' }).toEqual({ ...same, inputsSha256: '' });
  expect(notes.slice(0, -1)).toEqual(before);
  expect(notes.at(-1)).toMatchObject({ code: 'correction-does-not-fit', severity: 'warning' });
});

test('a split makes two pieces of one step; a part taken from it makes the step shorter', () => {
  const atS = edgeS + 100;
  const split: PhaseEdit = { kind: 'split-run', motion: 'closing', atS, sdS: 0.5, ...said };
  const first = run([split]).reconstruction;
  expect(first.phases.map(({ step, piece }) => [step, piece])).toEqual([
    ['hold-100', 1],
    ['to-30', 1],
    ['to-30', 2],
    ['hold-30', 1],
    ['final', 1],
  ]);
  expect(first.steps[1]?.durationS?.value).toBe(plain.steps[1]?.durationS?.value);
  expect(first.phases[2]?.startSet).toMatchObject({ by: 'Ada', computedS: null });
  const toS = closing?.endS.value ?? Number.NaN;
  const name: PhaseEdit = {
    kind: 'name-run',
    motion: 'closing',
    fromS: atS,
    toS,
    step: null,
    ...said,
  };
  const second = run([split, name]).reconstruction;
  expect(second.steps[1]?.durationS?.value).toBeCloseTo(100, 9);
  expect(second.phases[2]).toMatchObject({
    step: null,
    rateDeviation: null,
    stepSet: { by: 'Ada', computedStep: 'to-30' },
  });
  expect(second.phaseEdits?.results[1]).toMatchObject({
    outcome: { state: 'applied' },
    computedStep: 'to-30',
  });
});

test('declared contact ends the last phase and every rule, with what was computed beside it', () => {
  const touchS = plain.contact?.timeS.value ?? Number.NaN;
  const basis = 'first frame without a gap on the port camera';
  const word = { kind: 'contact', atS: touchS - 20, sdS: 0.5, basis, ...said } as const;
  const { reconstruction } = run([word]);
  const { contact } = reconstruction;
  expect(contact?.basis).toBe('declared');
  expect(contact?.set).toMatchObject({ by: 'Ada', basis });
  expect(contact?.set?.computedS?.value).toBe(touchS);
  expect(contact?.timeS.method).toMatch(/set by Ada: .*Basis: first frame.*Computed was 00:14:/);
  expect(reconstruction.evaluated?.toS).toBe(touchS - 20);
  expect(reconstruction.phases.at(-1)?.endS.value).toBe(touchS - 20);
  expect(contact?.conditions.closing_rate?.evidence.people).toHaveLength(1);
  expect(reconstructionFile(reconstruction)).toMatchObject({ contact: { basis: 'declared' } });
});

test('what people said afterwards is not known at a poll', () => {
  expect(knownBy({ ...flight, phaseEdits: [MOVE] }, 300).input.phaseEdits).toBeUndefined();
});
