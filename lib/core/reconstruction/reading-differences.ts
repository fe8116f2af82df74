/** How a session reads with one plan and rule set beside how it reads with others. */
import { type Figure, halfWidth95 } from '../figure';
import { contactLimitsOf } from '../rules/contact-limits';
import type { ContactLimit } from '../session/contact-limit-table';
import { nameFromId } from '../session/name-from-id';
import { matchPlaces } from './match-places';
import type {
  Exceedance,
  Motion,
  Phase,
  Reconstruction,
  RuleResult,
  StepResult,
  Verdict,
} from './reconstruction';

/** A computed number without its evidence; SI, `half` is the half-width of 95 %. */
export type BriefFigure = Readonly<{ value: number | null; half: number | null; unit: string }>;

/** A number beside the main one: by it a reading may differ where nothing else does. */
export type NamedFigure = Readonly<{ name: string; figure: BriefFigure }>;

export type RuleReading = Readonly<{
  verdict: Verdict;
  margin: BriefFigure | null;
  /** The unit margins are shown in. */
  unit: string | null;
  explanation: string;
  /** How often it went beyond its limit, and for how long altogether, s. */
  exceedanceCount: number;
  beyondS: number;
  /** The least room at any instant, and how deep it went beyond; absent in older previews. */
  depths?: readonly NamedFigure[];
}>;

export type StepReading = Readonly<{
  pieces: number;
  completed: boolean;
  completionUndecided?: true;
  startS: BriefFigure | null;
  durationS: BriefFigure | null;
  plannedS: number;
  deviationS: BriefFigure | null;
}>;

export type PhaseReading = Readonly<{
  step: string | null;
  motion: Motion;
  startS: BriefFigure;
  durationS: BriefFigure;
  /** How far the closing rate was off the plan's; absent in older previews. */
  depths?: readonly NamedFigure[];
}>;

/**
 * A condition at contact with its room to the nearer limit, or a stage of capture with its time after
 * contact and how late it was against plan.
 */
export type ArrivalReading = Readonly<{
  label: string;
  kind: 'condition' | 'stage';
  value: BriefFigure | null;
  room: BriefFigure | null;
}>;

/** One thing on both sides; null where that side has none. */
export type Pair<T> = Readonly<{ id: string; before: T | null; after: T | null; differs: boolean }>;

export type ReadingDifferences = Readonly<{
  rules: readonly Pair<RuleReading>[];
  steps: readonly Pair<StepReading>[];
  phases: readonly Pair<PhaseReading>[];
  /** Contact and capture; absent in older previews. */
  arrival?: readonly Pair<ArrivalReading>[];
}>;

function brief(figure: Figure): BriefFigure {
  return { value: figure.value, half: halfWidth95(figure), unit: figure.unit };
}

const briefOrNull = (figure: Figure | null) => (figure === null ? null : brief(figure));

function named(name: string, figure: Figure | null): readonly NamedFigure[] {
  return figure === null ? [] : [{ name, figure: brief(figure) }];
}

/** How far the deepest exceedance went beyond its limit; nothing where there was none. */
function deepest(exceedances: readonly Exceedance[]): readonly NamedFigure[] {
  const depths = exceedances.flatMap(({ worst, limit }) =>
    worst.value === null || limit.value === null
      ? []
      : [{ ...brief(worst), value: Math.abs(worst.value - limit.value) }],
  );
  const [first, ...others] = depths;
  if (first === undefined) return [];
  const figure = others.reduce((most, each) => (each.value > most.value ? each : most), first);
  return [{ name: 'deepest beyond', figure }];
}

function ruleReading(
  { id, verdict, margin, instantMargin, unit, explanation }: RuleResult,
  { exceedances }: Reconstruction,
): RuleReading {
  const own = exceedances.filter(({ rule }) => rule === id);
  const beyondS = own.reduce((sum, { durationS }) => sum + (durationS.value ?? 0), 0);
  const counts = { exceedanceCount: own.length, beyondS };
  const depths = [...named('least room at any instant', instantMargin), ...deepest(own)];
  return { verdict, margin: briefOrNull(margin), unit, explanation, ...counts, depths };
}

function stepReading(step: StepResult): StepReading {
  const { pieces, completed, completionUndecided, plannedS } = step;
  return {
    pieces,
    completed,
    ...(completionUndecided === undefined ? {} : { completionUndecided }),
    plannedS,
    startS: briefOrNull(step.startS),
    durationS: briefOrNull(step.durationS),
    deviationS: briefOrNull(step.durationDeviationS),
  };
}

function phaseReading({ step, motion, startS, durationS, rateDeviation }: Phase): PhaseReading {
  const depths = [
    ...named('mean off the planned rate', rateDeviation?.meanMps ?? null),
    ...named('peak off the planned rate', rateDeviation?.peakMps ?? null),
    ...named('outside its tolerance', rateDeviation?.outsideToleranceS ?? null),
  ];
  return { step, motion, startS: brief(startS), durationS: brief(durationS), depths };
}

/** Room to the nearer limit, negative beyond it. */
function roomOf({ atLeast, atMost }: ContactLimit, value: number): number {
  const size = atLeast === null ? Math.abs(value) : value;
  return Math.min(atMost - size, atLeast === null ? Number.POSITIVE_INFINITY : size - atLeast);
}

function arrivalReadings({ plan, contact, capture }: Reconstruction) {
  const limits = contact === null ? [] : contactLimitsOf(plan).limits;
  const conditions = limits.flatMap((limit): (readonly [string, ArrivalReading])[] => {
    const figure = contact?.conditions[limit.condition];
    if (figure === undefined || figure.value === null) return [];
    const value = brief(figure);
    const room = { ...value, value: roomOf(limit, figure.value) };
    return [[limit.condition, { label: limit.label, kind: 'condition', value, room }]];
  });
  const stages = (capture?.stages ?? []).map(
    ({ stage, afterContactS, differenceS }): readonly [string, ArrivalReading] => {
      const [value, room] = [briefOrNull(afterContactS), briefOrNull(differenceS)];
      return [stage, { label: nameFromId(stage), kind: 'stage', value, room }];
    },
  );
  return [...conditions, ...stages];
}

/** What a verdict says beside its number is words about it, and no difference of its own. */
function comparable(reading: unknown): string {
  return JSON.stringify(reading, (key, value: unknown) =>
    key === 'explanation' ? undefined : value,
  );
}

function pair<T>(id: string, before: T | null, after: T | null): Pair<T> {
  return { id, before, after, differs: comparable(before) !== comparable(after) };
}

function pairsById<Reading>(
  sides: readonly [before: Reconstruction, after: Reconstruction],
  read: (of: Reconstruction) => readonly (readonly [id: string, reading: Reading])[],
): readonly Pair<Reading>[] {
  const [older, newer] = [new Map(read(sides[0])), new Map(read(sides[1]))];
  return [...new Set([...newer.keys(), ...older.keys()])].map((id) =>
    pair(id, older.get(id) ?? null, newer.get(id) ?? null),
  );
}

/** Phases that lie on each other in time are one, whatever step they are said to be of. */
function phasePairs(before: Reconstruction, after: Reconstruction): readonly Pair<PhaseReading>[] {
  const { phases: match } = matchPlaces(before, after);
  const kept = new Set(match);
  const newer = after.phases.map((phase, index) => {
    const older = before.phases[match[index] ?? -1];
    return pair(`${index}`, older === undefined ? null : phaseReading(older), phaseReading(phase));
  });
  const gone = before.phases.flatMap((phase, index) =>
    kept.has(index) ? [] : [pair(`gone-${index}`, phaseReading(phase), null)],
  );
  const startOf = ({ before: older, after: later }: Pair<PhaseReading>): number =>
    (later ?? older)?.startS.value ?? Number.NEGATIVE_INFINITY;
  return [...newer, ...gone].sort((a, b) => startOf(a) - startOf(b));
}

/**
 * Holds two readings of one session against each other.
 *
 * @param before as it reads now
 * @param after as it would read
 * @returns rules and steps by id in the newer order, then what only the older has; phases in time
 *   order. `differs` where verdict, number or half-width is another one, be it by the last bit
 */
export function readingDifferences(
  before: Reconstruction,
  after: Reconstruction,
): ReadingDifferences {
  return {
    rules: pairsById([before, after], (side) =>
      side.rules.map((rule) => [rule.id, ruleReading(rule, side)]),
    ),
    steps: pairsById([before, after], ({ steps }) =>
      steps.map((step) => [step.id, stepReading(step)]),
    ),
    phases: phasePairs(before, after),
    arrival: pairsById([before, after], arrivalReadings),
  };
}
