/** How a session reads with one plan and rule set beside how it reads with others. */
import { type Figure, halfWidth95 } from '../figure';
import { matchPlaces } from './match-places';
import type {
  Motion,
  Phase,
  Reconstruction,
  RuleResult,
  StepResult,
  Verdict,
} from './reconstruction';

/** A computed number without its evidence; SI, `half` is the half-width of 95 %. */
export type BriefFigure = Readonly<{ value: number | null; half: number | null; unit: string }>;

export type RuleReading = Readonly<{
  verdict: Verdict;
  margin: BriefFigure | null;
  /** The unit margins are shown in. */
  unit: string | null;
  explanation: string;
  /** How often it went beyond its limit, and for how long altogether, s. */
  exceedanceCount: number;
  beyondS: number;
}>;

export type StepReading = Readonly<{
  pieces: number;
  completed: boolean;
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
}>;

/** One thing on both sides; null where that side has none. */
export type Pair<T> = Readonly<{ id: string; before: T | null; after: T | null; differs: boolean }>;

export type ReadingDifferences = Readonly<{
  rules: readonly Pair<RuleReading>[];
  steps: readonly Pair<StepReading>[];
  phases: readonly Pair<PhaseReading>[];
}>;

function brief(figure: Figure): BriefFigure {
  return { value: figure.value, half: halfWidth95(figure), unit: figure.unit };
}

const briefOrNull = (figure: Figure | null) => (figure === null ? null : brief(figure));

function ruleReading(
  { id, verdict, margin, unit, explanation }: RuleResult,
  { exceedances }: Reconstruction,
): RuleReading {
  const own = exceedances.filter(({ rule }) => rule === id);
  const beyondS = own.reduce((sum, { durationS }) => sum + (durationS.value ?? 0), 0);
  const counts = { exceedanceCount: own.length, beyondS };
  return { verdict, margin: briefOrNull(margin), unit, explanation, ...counts };
}

function stepReading(step: StepResult): StepReading {
  const { pieces, completed, plannedS } = step;
  return {
    pieces,
    completed,
    plannedS,
    startS: briefOrNull(step.startS),
    durationS: briefOrNull(step.durationS),
    deviationS: briefOrNull(step.durationDeviationS),
  };
}

function phaseReading({ step, motion, startS, durationS }: Phase): PhaseReading {
  return { step, motion, startS: brief(startS), durationS: brief(durationS) };
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
  };
}
