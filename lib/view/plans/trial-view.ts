/** How sessions would read with a draft: now and then side by side, and by how much. */
import { type FigureTextOptions, figureText } from '../../core/debrief/figure-text';
import { completionOf } from '../../core/reconstruction/kind-words';
import type {
  ArrivalReading,
  BriefFigure,
  NamedFigure,
  Pair,
  PhaseReading,
  ReadingDifferences,
  RuleReading,
  StepReading,
} from '../../core/reconstruction/reading-differences';
import type { Verdict } from '../../core/reconstruction/reconstruction';
import { nameFromId } from '../../core/session/name-from-id';
import { formatNumber, formatSigned } from '../../core/units/number-text';
import { stampText } from '../format-date';
import { plural } from '../format-number';
import { motionName } from '../labels';

/** One side of a row: a word that may be coloured, and figures as text. */
export type SideCell = Readonly<{ verdict: Verdict | null; text: string }>;

export type TrialRow = Readonly<{
  key: string;
  name: string;
  before: SideCell;
  after: SideCell;
  /** By how much; empty where it is another word, or nothing differs. */
  difference: string;
  differs: boolean;
}>;

/** `what` heads the column of names. */
export type TrialTable = Readonly<{ title: string; what: string; rows: readonly TrialRow[] }>;

export type TrialSessionView = Readonly<{
  key: string;
  title: string;
  href: string;
  summary: string;
  differs: boolean;
  tables: readonly TrialTable[];
  remarks: readonly string[];
}>;

export type TrialView = Readonly<{
  jobId: string;
  sha256: string;
  when: string;
  summary: string;
  sessions: readonly TrialSessionView[];
}>;

type Session = Readonly<{
  sessionId: string;
  title: string;
  differences: ReadingDifferences | null;
  sameRuleCount: number;
  sameStepCount: number;
  unknownSteps: readonly string[];
  dispositions: readonly Readonly<{
    rule: string;
    disposition: 'waived' | 'amended';
    change: 'dropped' | 'altered';
  }>[];
  fault: string | null;
}>;

/** As `loadTrial` gives it. */
export type TrialInput = Readonly<{
  jobId: string;
  createdAtIso: string;
  trial: Readonly<{ sha256: string; title: string; sessions: readonly Session[] }>;
}>;

const NO_EVIDENCE = { sources: [], channels: [], fromS: null, toS: null };

function text(brief: BriefFigure | null, options: FigureTextOptions): string {
  if (brief === null || brief.value === null) return '';
  const { value, half, unit } = brief;
  const uncertainty = half === null ? null : { random: half, systematic: null };
  return figureText({ value, unit, uncertainty, method: '', evidence: NO_EVIDENCE }, options);
}

/** Newer minus older, with the digits that the older one deserves. */
function differenceOf(
  before: BriefFigure | null | undefined,
  after: BriefFigure | null | undefined,
  options: FigureTextOptions,
): string {
  const [from, to] = [before?.value ?? null, after?.value ?? null];
  if (from === null || to === null || before == null || from === to) return '';
  return text({ ...before, value: to - from }, { ...options, uncertainty: 'without' });
}

type Side = Readonly<{ depths?: readonly NamedFigure[] }> | null;

/** Each number beside the main one that differs, by how much. */
function depthDifferences(
  before: Side,
  after: Side,
  options: FigureTextOptions,
): readonly string[] {
  const older = new Map(before?.depths?.map(({ name, figure }) => [name, figure]));
  return (after?.depths ?? []).flatMap(({ name, figure }) => {
    const difference = differenceOf(older.get(name), figure, options);
    return difference === '' ? [] : [`${difference} ${name}`];
  });
}

const joined = (parts: readonly string[]): string => parts.filter((part) => part !== '').join(', ');

const NOT_THERE: SideCell = { verdict: null, text: 'not there' };

function ruleCell(reading: RuleReading | null): SideCell {
  if (reading === null) return NOT_THERE;
  const { verdict, unit, exceedanceCount } = reading;
  const margin = text(reading.margin, { form: 'signed', unit });
  const beyond =
    exceedanceCount === 0
      ? ''
      : `${plural(exceedanceCount, 'time')} beyond, ${formatNumber(reading.beyondS, 1)} s`;
  return { verdict, text: [margin, beyond].filter((part) => part !== '').join(', ') };
}

function beyondDifference(before: RuleReading | null, after: RuleReading | null): string {
  if (before === null || after === null || before.beyondS === after.beyondS) return '';
  return `${formatSigned(after.beyondS - before.beyondS, 1)}\u00a0s beyond`;
}

function ruleRow({ id, before, after, differs }: Pair<RuleReading>): TrialRow {
  const options = { form: 'signed', unit: after?.unit ?? before?.unit ?? null } as const;
  return {
    key: `rule-${id}`,
    name: nameFromId(id),
    before: ruleCell(before),
    after: ruleCell(after),
    difference: joined([
      before?.unit === after?.unit ? differenceOf(before?.margin, after?.margin, options) : '',
      beyondDifference(before, after),
      ...(before?.unit === after?.unit ? depthDifferences(before, after, options) : []),
    ]),
    differs,
  };
}

function stepCell(reading: StepReading | null): SideCell {
  if (reading === null) return NOT_THERE;
  if (reading.pieces === 0) return { verdict: null, text: 'never flown' };
  const duration = text(reading.durationS, { form: 'duration' });
  const deviation = text(reading.deviationS, { form: 'signed-duration', uncertainty: 'without' });
  const pieces = reading.pieces === 1 ? '' : `, in ${reading.pieces} pieces`;
  const end = completionOf(reading) === 'completed' ? '' : `, ${completionOf(reading)}`;
  return { verdict: null, text: `${duration}, ${deviation} against plan${pieces}${end}` };
}

function stepRow({ id, before, after, differs }: Pair<StepReading>): TrialRow {
  const options = { form: 'signed-duration' } as const;
  const flown = differenceOf(before?.durationS, after?.durationS, options);
  const late = differenceOf(before?.deviationS, after?.deviationS, options);
  return {
    key: `step-${id}`,
    name: nameFromId(id),
    before: stepCell(before),
    after: stepCell(after),
    difference: joined([
      flown === '' ? '' : `${flown} long`,
      late === '' ? '' : `${late} against plan`,
    ]),
    differs,
  };
}

function phaseCell(reading: PhaseReading | null): SideCell {
  if (reading === null) return NOT_THERE;
  const { step, motion, startS, durationS } = reading;
  const name = step === null ? `${motionName(motion)}, unplanned` : nameFromId(step);
  const start = text(startS, { form: 'time', uncertainty: 'without' });
  const duration = text(durationS, { form: 'duration', uncertainty: 'without' });
  return { verdict: null, text: `${name} from ${start}, ${duration}` };
}

function phaseRow({ id, before, after, differs }: Pair<PhaseReading>, at: number): TrialRow {
  return {
    key: `phase-${id}`,
    name: `Phase ${at + 1}`,
    before: phaseCell(before),
    after: phaseCell(after),
    difference: joined([
      differenceOf(before?.startS, after?.startS, { form: 'signed-duration' }),
      ...depthDifferences(before, after, { form: 'signed' }),
    ]),
    differs,
  };
}

function arrivalCell(reading: ArrivalReading | null): SideCell {
  if (reading === null) return NOT_THERE;
  const { kind, value, room } = reading;
  if (value === null) return { verdict: null, text: 'not seen' };
  const isStage = kind === 'stage';
  const shown = text(value, isStage ? { form: 'number' } : {});
  const left = text(room, { form: 'signed', uncertainty: 'without' });
  const of = isStage ? 'against plan' : 'to the limit';
  return { verdict: null, text: joined([shown, left === '' ? '' : `${left} ${of}`]) };
}

function arrivalRow({ id, before, after, differs }: Pair<ArrivalReading>): TrialRow {
  return {
    key: `arrival-${id}`,
    name: (after ?? before)?.label ?? id,
    before: arrivalCell(before),
    after: arrivalCell(after),
    difference: differenceOf(before?.room, after?.room, { form: 'signed' }),
    differs,
  };
}

function tablesOf({
  rules,
  steps,
  phases,
  arrival = [],
}: ReadingDifferences): readonly TrialTable[] {
  return [
    { title: 'Rules', what: 'rule', rows: rules.map(ruleRow) },
    { title: 'Steps', what: 'step', rows: steps.map(stepRow) },
    { title: 'Phases', what: 'phase', rows: phases.map(phaseRow) },
    { title: 'Contact and capture', what: 'figure', rows: arrival.map(arrivalRow) },
  ].filter(({ rows }) => rows.length > 0);
}

function differing(pairs: readonly Readonly<{ differs: boolean }>[]): number {
  return pairs.filter(({ differs }) => differs).length;
}

function summaryOf({ differences, sameRuleCount, sameStepCount, fault }: Session): string {
  if (differences === null) return fault ?? 'could not be read';
  const counts = [differing(differences.rules), differing(differences.steps)] as const;
  const [rules, steps] = counts;
  const phases = differing(differences.phases);
  const arrival = differing(differences.arrival ?? []);
  if (rules + steps + phases + arrival === 0) return 'reads the same';
  const parts = [
    rules === 0 ? '' : `${rules} of ${plural(rules + sameRuleCount, 'rule')}`,
    steps === 0 ? '' : `${steps} of ${plural(steps + sameStepCount, 'step')}`,
    phases === 0 ? '' : plural(phases, 'phase'),
    arrival === 0 ? '' : `${plural(arrival, 'figure')} of contact and capture`,
  ].filter((part) => part !== '');
  return `${parts.join(', ')} would read differently`;
}

function remarksOf({ unknownSteps, dispositions }: Session): readonly string[] {
  const decisions = dispositions.map(({ rule, disposition, change }) => {
    const does = change === 'dropped' ? 'drops' : 'alters';
    return `${nameFromId(rule)} was ${disposition}, and this ${does} the rule: the decision stays on record, look at it again.`;
  });
  return [...decisions, ...unknownSteps.map((sentence) => `${sentence}: it is not evaluated.`)].map(
    (sentence) => sentence.charAt(0).toUpperCase() + sentence.slice(1),
  );
}

function sessionView(session: Session): TrialSessionView {
  const { sessionId, title, differences } = session;
  const summary = summaryOf(session);
  return {
    key: sessionId,
    title,
    href: `/sessions/${encodeURIComponent(sessionId)}`,
    summary,
    differs: summary !== 'reads the same',
    tables: differences === null ? [] : tablesOf(differences),
    remarks: remarksOf(session),
  };
}

export function trialView({ jobId, createdAtIso, trial }: TrialInput): TrialView {
  const sessions = trial.sessions.map(sessionView);
  const count = sessions.filter(({ differs }) => differs).length;
  return {
    jobId,
    sha256: trial.sha256,
    when: stampText(createdAtIso),
    summary:
      sessions.length === 1
        ? (sessions[0]?.summary ?? '')
        : `${count} of ${plural(sessions.length, 'session')} would read differently`,
    sessions,
  };
}
