/** Places along the approach, the deviation from the plan's profile and the time to go, as figures. */
import { deviationByRange, type RangeDeviation } from '../approach/plan-deviation';
import { type PlannedWay, plannedElapsedS, plannedWay } from '../approach/planned-way';
import { corridorsOf, type Station, stationsOf, tightestCorridor } from '../approach/stations';
import { type PlanClock, planClock } from '../approach/time-to-go';
import type { EvidenceSource, Figure } from '../figure';
import { profileAt } from '../math/search';
import { NORMAL_95 } from '../math/statistics';
import type { MotionColumn } from '../motion/motion-estimate';
import { motionThrough } from '../motion/sample-motion';
import { leadsAway, motionOfMove } from '../phases/match-steps';
import type { Plan } from '../session/plan';
import type { Rule } from '../session/rule';
import type { ApproachDeviation, ApproachFigures, ApproachStation } from './approach-report';
import type { SessionMotion } from './estimated-motion';
import { type FigureParts, figureOf, withPeople } from './figure-of';
import type { FlownPhase } from './phase-figures';
import { type MomentReader, toGoByRate } from './to-go-by-rate';

/** What the approach is told from. */
export type ApproachInput = Readonly<{
  session: SessionMotion;
  plan: Plan | null;
  rules: readonly Rule[];
  rulesFile: EvidenceSource | null;
  phases: readonly FlownPhase[];
  contactS: number | null;
  /** What people said of contact; empty where it was computed. */
  contactPeople: readonly string[];
  span: Readonly<{ fromS: number; toS: number }>;
}>;

/** With the plan's clock made once. */
type TimedInput = ApproachInput & Readonly<{ clock: PlanClock | null }>;

type PlanMoment = Readonly<{ stepIndex: number; startS: number }>;

/** The step being flown at an instant: the last one begun by then. */
function stepAt(phases: readonly FlownPhase[], atS: number): PlanMoment | null {
  const begun = phases.filter(
    ({ run, match }) => run.startS <= atS + 1e-6 && match.stepIndex !== null,
  );
  const stepIndex = begun.at(-1)?.match.stepIndex ?? null;
  const first = begun.find(({ match }) => match.stepIndex === stepIndex);
  return first === undefined || stepIndex === null ? null : { stepIndex, startS: first.run.startS };
}

/** What people set of the step being flown, from its first piece to the last one begun by then. */
function peopleOfMoment({ phases }: ApproachInput, moment: PlanMoment | null, atS: number) {
  if (moment === null) return [];
  return phases
    .filter(({ run, match }) => run.startS <= atS + 1e-6 && match.stepIndex === moment.stepIndex)
    .flatMap(({ people }) => people);
}

/** What people set of the moment itself: the edge at which a run begins, or contact. */
function peopleOfStation({ phases, contactPeople }: ApproachInput, { kind, of }: Station) {
  if (kind === 'contact') return contactPeople;
  if (kind !== 'run-start' || of === null) return [];
  return phases[of]?.phase.startS.evidence.people ?? [];
}

function readerAt(
  { session }: ApproachInput,
  atS: number,
  people: readonly string[],
): MomentReader {
  const origin = withPeople(session.origin, people);
  return {
    at: (column) => motionThrough(session.motion, column, atS),
    figure: (parts) => figureOf(origin, { fromS: atS, toS: atS, ...parts }),
    people,
  };
}

const ACROSS_NOTE = ' The interval is that of the distance from the axis.';

function clearanceOf(input: ApproachInput, { at, people }: MomentReader, atS: number) {
  const tightest = tightestCorridor(corridorsOf(input.rules), at('rangeM'), at('axialM'));
  const { session, rulesFile } = input;
  if (tightest === null) return { corridor: null, clearanceM: null };
  const { corridor, radiusM } = tightest;
  const { rule, limit } = corridor;
  const sources = rulesFile === null ? [] : [rulesFile];
  const slope = limit.kind === 'cone' && radiusM > limit.floorM ? Math.tan(limit.halfAngleRad) : 0;
  const clearanceM = figureOf(
    withPeople({ ...session.origin, sources: [...session.origin.sources, ...sources] }, people),
    {
      value: radiusM - at('lateralM'),
      unit: 'm',
      random: NORMAL_95 * Math.hypot(at('lateralSdM'), slope * at('axialSdM')),
      systematic: session.stated.lateralM,
      method: `Radius that rule ${rule} allows at this axial distance less the distance from the docking axis.`,
      fromS: atS,
      toS: atS,
    },
  );
  return { corridor: { rule, radiusM }, clearanceM };
}

function toGo(input: TimedInput, reader: MomentReader, moment: PlanMoment | null, atS: number) {
  const { plan, session, clock } = input;
  const { at } = reader;
  const byRateS = toGoByRate(plan, reader);
  if (plan === null || clock === null || moment === null) {
    return { toGoByPlanS: null, toGoByRateS: byRateS };
  }
  const rangeM = at('rangeM');
  const step = plan.steps[moment.stepIndex];
  const place = { stepIndex: moment.stepIndex, sinceS: atS - moment.startS, rangeM };
  const rate = step?.kind === 'move' ? Math.abs(profileAt(step.closingRateMps, rangeM)) : 0;
  const people = [...reader.people, ...peopleOfMoment(input, moment, atS)];
  const toGoByPlanS = figureOf(withPeople(session.origin, people), {
    fromS: atS,
    toS: atS,
    value: clock(place),
    unit: 's',
    random: rate > 0 ? (NORMAL_95 * at('rangeSdM')) / rate : null,
    systematic: rate > 0 && session.stated.rangeM !== null ? session.stated.rangeM / rate : null,
    method:
      'The rest of the step being flown (a move by its profile and ramps from this range, a hold by its planned length) and the planned lengths of the steps after it.',
  });
  return { toGoByPlanS, toGoByRateS: byRateS };
}

function stationFigures(input: TimedInput, station: Station): ApproachStation {
  const { session, plan } = input;
  const { motion, stated } = session;
  const { atS } = station;
  const reader = readerAt(input, atS, peopleOfStation(input, station));
  const { at, figure } = reader;
  const place = (column: MotionColumn, sd: MotionColumn, systematic: number | null, note = '') =>
    figure({
      value: at(column),
      unit: 'm',
      random: NORMAL_95 * at(sd),
      systematic,
      method: `${motion.positionMethod}${note}`,
    });
  const moment = stepAt(input.phases, atS);
  const step = moment === null ? undefined : plan?.steps[moment.stepIndex];
  return {
    kind: station.kind,
    of: station.of,
    timeS: figure({
      value: atS,
      unit: 's',
      random: null,
      method: 'The moment for which the values beside it are read from the estimated motion.',
    }),
    rangeM: place('rangeM', 'rangeSdM', stated.rangeM),
    axialM: place('axialM', 'axialSdM', stated.rangeM),
    yM: place('yM', 'lateralSdM', stated.lateralM, ACROSS_NOTE),
    zM: place('zM', 'lateralSdM', stated.lateralM, ACROSS_NOTE),
    lateralM: place('lateralM', 'lateralSdM', stated.lateralM),
    ...clearanceOf(input, reader, atS),
    closingMps: figure({
      value: at('closingMps'),
      unit: 'm/s',
      random: NORMAL_95 * at('closingSdMps'),
      systematic: stated.rateMps,
      method: motion.rateMethod,
    }),
    plannedMps: step?.kind === 'move' ? profileAt(step.closingRateMps, at('rangeM')) : null,
    ...toGo(input, reader, moment, atS),
  };
}

type Flown = Readonly<{
  stepId: string;
  startS: number;
  startHalfS: number;
  people: readonly string[];
  way: PlannedWay | null;
}>;

function deviationFigures(
  { session, plan }: ApproachInput,
  numbers: RangeDeviation,
  flown: Flown,
): ApproachDeviation {
  const { stated, motion } = session;
  const origin = withPeople(session.origin, flown.people);
  const { fromS, toS } = numbers;
  const figure = (parts: FigureParts): Figure => figureOf(origin, { fromS, toS, ...parts });
  const rate = (measured: RangeDeviation['meanMps'], method: string): Figure =>
    figure({
      value: measured.value,
      unit: 'm/s',
      random: measured.half,
      systematic: stated.rateMps,
      method,
    });
  // The run begins where the rate passes the hold rate, a little after it was let go.
  const letGoS = (plan?.holdRateMps ?? 0) / (plan?.accelerationMps2 ?? 1);
  const endRangeM = motionThrough(motion, 'rangeM', toS);
  const endRate = Math.max(Math.abs(numbers.plannedMps), 1e-3);
  const lateS =
    flown.way === null
      ? null
      : figure({
          value: toS - flown.startS + letGoS - plannedElapsedS(flown.way, endRangeM),
          unit: 's',
          random: Math.hypot(
            flown.startHalfS,
            (NORMAL_95 * motionThrough(motion, 'rangeSdM', toS)) / endRate,
          ),
          systematic: stated.rangeM === null ? null : stated.rangeM / endRate,
          method:
            'At the end of this stretch: time since the step was begun, less the time in which the plan’s profile with its ramps comes from the planned start to the same range.',
        });
  const by = 'Mean over time of the rows between these two ranges';
  return {
    step: flown.stepId,
    piece: numbers.piece,
    part: numbers.part,
    fromM: numbers.fromM,
    toM: numbers.toM,
    plannedMps: numbers.plannedMps,
    meanMps: rate(numbers.meanMps, `${by}, closing rate.`),
    deviationMps: rate(
      numbers.deviationMps,
      `${by}, closing rate less planned rate at each range.`,
    ),
    outsideS: figure({
      value: numbers.outsideS,
      unit: 's',
      random: null,
      method: 'Time of rows whose closing rate is off the profile by more than the tolerance.',
    }),
    lateS,
  };
}

function allDeviations(input: ApproachInput): readonly ApproachDeviation[] {
  const { plan, session, phases } = input;
  if (plan === null) return [];
  return plan.steps.flatMap((step, index) => {
    if (step.kind !== 'move') return [];
    const pieces = phases.filter(
      ({ run, match }) => match.stepIndex === index && run.motion === motionOfMove(step),
    );
    const [first] = pieces;
    if (first === undefined) return [];
    const flown: Flown = {
      stepId: step.id,
      startS: first.run.startS,
      startHalfS: first.run.startHalfS,
      people: pieces.flatMap(({ people }) => people),
      way: plannedWay(plan, index),
    };
    const runs = pieces.map(({ run }) => run);
    return deviationByRange(session.motion, runs, step, plan.accelerationMps2).map((numbers) =>
      deviationFigures(input, numbers, flown),
    );
  });
}

/** The approach at its stations, and against the plan's profile range by range. */
export function approachFigures(input: ApproachInput): ApproachFigures {
  const stations = stationsOf(input.session.motion, {
    runStartsS: input.phases.map(({ run }) => run.startS),
    contactS: input.contactS,
    rules: input.rules,
    passing: leadsAway(input.plan) ? 'outwards' : 'inwards',
    span: input.span,
  });
  const timed = { ...input, clock: input.plan === null ? null : planClock(input.plan) };
  return {
    stations: stations.map((station) => stationFigures(timed, station)),
    deviations: allDeviations(input),
  };
}
