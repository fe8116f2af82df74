/** The plan as traces: range as it would have run, holds with their tolerance, tolerances of the rate. */
import { profileAt } from '../core/math/search';
import type { Reconstruction } from '../core/reconstruction/reconstruction';
import type { MoveStep, PlanStep } from '../core/session/plan';

/** A line known to the page itself, in SI; null where nothing is drawn. */
export type PlanLine = Readonly<{ tS: readonly number[]; values: readonly (number | null)[] }>;

/** How far from a planned value something may lie, SI. */
export type PlanTolerance = Readonly<{ fromS: number; toS: number; by: number }>;

export type PlanTraces = Readonly<{
  /** Range from the first flown step's start, each step as long as planned. */
  range: PlanLine | null;
  /** The range of each hold as planned, over the time in which it was flown. */
  holds: PlanLine | null;
  holdTolerances: readonly PlanTolerance[];
  /** Along the pieces of planned moves. */
  rateTolerances: readonly PlanTolerance[];
}>;

/** Points of a step's line: enough for a screen, few enough for a page. */
const POINTS_A_STEP = 60;

export function planTraces(reconstruction: Reconstruction): PlanTraces {
  const { plan } = reconstruction;
  const steps = plan?.steps ?? [];
  const flown = flownSteps(reconstruction, steps);
  const holds = flown.filter((each) => each.step.kind === 'hold');
  return {
    range: plannedRange(reconstruction, steps),
    holds:
      holds.length === 0
        ? null
        : joined(
            holds.map(({ step, fromS, toS }) => {
              const holdM = step.kind === 'hold' ? step.holdM : 0;
              return evenly((share) => [fromS + share * (toS - fromS), holdM]);
            }),
          ),
    holdTolerances: flown.flatMap(({ step, fromS, toS }) =>
      step.kind === 'hold' ? { fromS, toS, by: step.toleranceM } : [],
    ),
    rateTolerances: flown.flatMap(({ step, fromS, toS }) =>
      step.kind === 'move' ? { fromS, toS, by: step.toleranceMps } : [],
    ),
  };
}

type FlownStep = Readonly<{ step: PlanStep; fromS: number; toS: number }>;

function flownSteps({ phases }: Reconstruction, steps: readonly PlanStep[]): readonly FlownStep[] {
  return phases.flatMap((phase) => {
    const step = steps.find((each) => each.id === phase.step);
    const fromS = phase.startS.value;
    const toS = phase.endS.value;
    return step === undefined || fromS === null || toS === null ? [] : { step, fromS, toS };
  });
}

type Point = readonly [tS: number, value: number | null];

function evenly(at: (share: number) => Point): readonly Point[] {
  return Array.from({ length: POINTS_A_STEP + 1 }, (_, index) => at(index / POINTS_A_STEP));
}

/** Lines one after the other, nothing drawn between them. */
function joined(lines: readonly (readonly Point[])[]): PlanLine {
  const points = lines.flatMap((line): readonly Point[] => [
    ...line,
    [line.at(-1)?.[0] ?? 0, null],
  ]);
  return { tS: points.map(([tS]) => tS), values: points.map(([, value]) => value) };
}

function plannedRange({ phases }: Reconstruction, steps: readonly PlanStep[]): PlanLine | null {
  let fromS = phases[0]?.startS.value ?? null;
  let rangeM = phases[0]?.rangeStartM.value ?? null;
  if (fromS === null || rangeM === null || steps.length === 0) return null;
  const points: Point[] = [];
  for (const step of steps) {
    const startS: number = fromS;
    if (step.kind === 'hold') {
      const { holdM } = step;
      points.push(...evenly((share) => [startS + share * step.plannedS, holdM]));
      rangeM = holdM;
    } else {
      const shape = moveShape(step, rangeM);
      points.push(...shape.map(([share, at]): Point => [startS + share * step.plannedS, at]));
      rangeM = step.toM;
    }
    fromS = startS + step.plannedS;
  }
  return { tS: points.map(([tS]) => tS), values: points.map(([, value]) => value) };
}

/**
 * Range along a move against the share of its time: the planned rate at each range, the whole fitted into
 * the time that the plan gives it. A profile that comes to rest on the way is drawn as a straight line.
 */
function moveShape(
  step: MoveStep,
  fromM: number,
): readonly (readonly [share: number, rangeM: number])[] {
  const legM = (fromM - step.toM) / POINTS_A_STEP;
  const at = (index: number): number => fromM - index * legM;
  const takenS = [0];
  for (let index = 0; index < POINTS_A_STEP; index += 1) {
    const rateMps = profileAt(step.closingRateMps, (at(index) + at(index + 1)) / 2);
    takenS.push((takenS[index] ?? 0) + legM / rateMps);
  }
  const wholeS = takenS.at(-1) ?? 0;
  const isRunning = Number.isFinite(wholeS) && wholeS > 0;
  return takenS.map((tS, index) => [isRunning ? tS / wholeS : index / POINTS_A_STEP, at(index)]);
}
