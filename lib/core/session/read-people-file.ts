/** Reads people.yaml. */
import { hasErrors, type Issue } from '../result';
import type { ClockCorrection } from './clock-correction';
import { type CrewQuestionWords, readCrewQuestions } from './crew-question-words';
import type { PartlyRead } from './file-faults';
import type { HandlingRating, HandlingTask, TaskLoadWords } from './handling-words';
import { type PeopleFileData, peopleFileSchema } from './people-schema';
import type { PhaseEdit } from './phase-edit';
import { readPhaseEdit } from './phase-edit-file';
import { faultOfTies, type RecordingWords, readRecording } from './recording-words';
import type { RuleDisposition } from './rule-disposition';
import { capIssues, checkSchema, makeReport, type Report } from './schema-issues';
import type { StretchCorrection } from './stretch-correction';
import { readYaml } from './yaml-text';

/** How well a person places a moment where they do not say, s. Common practice, no source. */
const DEFAULT_HAND_SD_S = 0.2;

/** What people added to a session. */
export type PeopleFile = Readonly<{
  clockCorrections: readonly ClockCorrection[];
  stretchCorrections: readonly StretchCorrection[];
  /** Absent where nobody corrected a phase. */
  phaseEdits?: readonly PhaseEdit[];
  /** Absent where nobody decided anything about a rule. */
  ruleDispositions?: readonly RuleDisposition[];
  /** Absent where nobody named a task. */
  handlingTasks?: readonly HandlingTask[];
  /** Absent where nobody gave a rating. */
  handlingRatings?: readonly HandlingRating[];
  /** Absent where nobody asked the crew. */
  crewQuestions?: readonly CrewQuestionWords[];
  /** Absent where no recording was attached. */
  recordings?: readonly RecordingWords[];
}>;

type CorrectionData = NonNullable<PeopleFileData['clock_corrections']>[number];

function readCorrection(data: CorrectionData): ClockCorrection {
  const { source } = data;
  const said = { by: data.by ?? null, reason: data.reason ?? null };
  if ('tie_point' in data) {
    const [sourceS, sessionS] = data.tie_point;
    const sdS = data.sd_s ?? DEFAULT_HAND_SD_S;
    return { kind: 'tie-point', source, sourceS, sessionS, sdS, ...said };
  }
  const place = { source, line: data.line, nth: data.nth ?? 1 };
  if ('said_m' in data) {
    return { kind: 'correct', ...place, quantity: 'range', saidSi: data.said_m, ...said };
  }
  if ('said_mps' in data) {
    return { kind: 'correct', ...place, quantity: 'rate', saidSi: data.said_mps, ...said };
  }
  return { kind: data.callout, ...place, ...said };
}

type StretchData = NonNullable<PeopleFileData['stretch_corrections']>[number];

function readStretch(data: StretchData): StretchCorrection {
  const { source, channel, from_s: fromS, to_s: toS, use } = data;
  const said = { by: data.by ?? null, reason: data.reason ?? null };
  return { source, channel, fromS: Math.min(fromS, toS), toS: Math.max(fromS, toS), use, ...said };
}

type DispositionData = NonNullable<PeopleFileData['rule_dispositions']>[number];

function readDisposition(data: DispositionData): RuleDisposition {
  return {
    rule: data.rule,
    disposition: data.disposition,
    givenBy: data.given_by ?? null,
    atS: data.at_s ?? null,
    entry: data.entry ?? null,
    amendedTo: data.amended_to ?? null,
    by: data.by ?? null,
    reason: data.reason ?? null,
  };
}

type TaskData = NonNullable<PeopleFileData['handling_tasks']>[number];

function readTask(data: TaskData): HandlingTask {
  const { from_s, to_s, target, by, reason, ...rest } = data;
  return {
    ...rest,
    fromS: Math.min(from_s, to_s),
    toS: Math.max(from_s, to_s),
    target: target ?? 0,
    by: by ?? null,
    reason: reason ?? null,
  };
}

type RatingData = NonNullable<PeopleFileData['handling_ratings']>[number];

function readRating({ remark, by, reason, ...rest }: RatingData): HandlingRating {
  const said = { remark: remark ?? null, by: by ?? null, reason: reason ?? null };
  if (!('load' in rest)) return { ...rest, ...said };
  return { ...rest, answers: {}, rating: meanLoad(rest.load), ...said };
}

/** The plain mean of the six sub-scales. */
function meanLoad(load: TaskLoadWords): number {
  const values = Object.values(load);
  return values.reduce((sum, each) => sum + each, 0) / values.length;
}

/** One warning a name that several tasks bear: a rating names its task by it. */
function tasksNamedTwice(tasks: readonly TaskData[], fileName: string): readonly Issue[] {
  const names = tasks.map(({ name }) => name);
  return [...new Set(names)].flatMap((name): Issue[] => {
    const count = names.filter((each) => each === name).length;
    if (count < 2) return [];
    return [
      {
        code: 'task-twice',
        severity: 'warning',
        file: fileName,
        message: `handling_tasks: ${count} tasks are named "${name}"; a rating of it stands with each of them`,
        expected: 'a name of its own for each task',
        received: name,
      },
    ];
  });
}

/** Tie points that are no clock of a recording, one warning each: it is attached without a clock then. */
function recordingsWithoutClock(
  recordings: NonNullable<PeopleFileData['recordings']>,
  report: Report,
): void {
  for (const [index, { tie_points: ties = [] }] of recordings.entries()) {
    const fault = faultOfTies(ties);
    if (fault === null) continue;
    report(['recordings', index, 'tie_points'], {
      code: 'no-clock',
      severity: 'warning',
      message: `${fault} The recording is attached without a clock`,
      expected: 'times of the recording and of the session that go on together',
      received: JSON.stringify(ties),
    });
  }
}

/**
 * Reads what people added.
 *
 * @param text YAML or JSON
 * @param fileName for the issues
 * @returns corrections in the order of the file; `value` is null where one of the issues is an error
 */
export function readPeopleFile(text: string, fileName: string): PartlyRead<PeopleFile> {
  const yaml = readYaml(text, fileName);
  if (yaml.value === null) return { value: null, understood: null, issues: yaml.issues };
  const checked = checkSchema(peopleFileSchema, yaml.value);
  const twice = tasksNamedTwice(checked.understood?.handling_tasks ?? [], fileName);
  const all: Issue[] = [...yaml.issues, ...checked.issues, ...twice];
  const report = makeReport(yaml.value, all, checked.faults);
  recordingsWithoutClock(checked.understood?.recordings ?? [], report);
  const issues: readonly Issue[] = capIssues(all, fileName);
  if (checked.understood === null) return { value: null, understood: null, issues };
  const clockCorrections = (checked.understood.clock_corrections ?? []).map(readCorrection);
  const stretchCorrections = (checked.understood.stretch_corrections ?? []).map(readStretch);
  const phaseEdits = (checked.understood.phase_corrections ?? []).map(readPhaseEdit);
  const ruleDispositions = (checked.understood.rule_dispositions ?? []).map(readDisposition);
  const handlingTasks = (checked.understood.handling_tasks ?? []).map(readTask);
  const handlingRatings = (checked.understood.handling_ratings ?? []).map(readRating);
  const crewQuestions = readCrewQuestions(checked.understood.crew_questions ?? []);
  const recordings = (checked.understood.recordings ?? []).map(readRecording);
  const read = {
    clockCorrections,
    stretchCorrections,
    ...(phaseEdits.length === 0 ? {} : { phaseEdits }),
    ...(ruleDispositions.length === 0 ? {} : { ruleDispositions }),
    ...(handlingTasks.length === 0 ? {} : { handlingTasks }),
    ...(handlingRatings.length === 0 ? {} : { handlingRatings }),
    ...(crewQuestions.length === 0 ? {} : { crewQuestions }),
    ...(recordings.length === 0 ? {} : { recordings }),
  };
  return { value: hasErrors(issues) ? null : read, understood: read, issues };
}
