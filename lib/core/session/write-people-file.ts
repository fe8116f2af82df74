/** Writes people.yaml. */
import { stringify } from 'yaml';
import type { ClockCorrection } from './clock-correction';
import { crewQuestionData } from './crew-question-words';
import type { HandlingRating, HandlingTask } from './handling-words';
import { dataWithoutHiddenSigns } from './hidden-signs';
import type { PeopleFileData } from './people-schema';
import { phaseEditData } from './phase-edit-file';
import type { PeopleFile } from './read-people-file';
import { recordingData } from './recording-words';
import { dispositionData } from './rule-disposition';
import type { StretchCorrection } from './stretch-correction';

type CorrectionData = NonNullable<PeopleFileData['clock_corrections']>[number];

function correctionData(correction: ClockCorrection): CorrectionData {
  const { source, by, reason } = correction;
  const said = { ...(by === null ? {} : { by }), ...(reason === null ? {} : { reason }) };
  if (correction.kind === 'tie-point') {
    const { sourceS, sessionS, sdS } = correction;
    return { source, tie_point: [sourceS, sessionS], sd_s: sdS, ...said };
  }
  const place = { source, line: correction.line, nth: correction.nth };
  if (correction.kind !== 'correct') return { ...place, callout: correction.kind, ...said };
  const { saidSi } = correction;
  return correction.quantity === 'range'
    ? { ...place, callout: 'correct', said_m: saidSi, ...said }
    : { ...place, callout: 'correct', said_mps: saidSi, ...said };
}

type StretchData = NonNullable<PeopleFileData['stretch_corrections']>[number];

function stretchData({ fromS, toS, by, reason, ...rest }: StretchCorrection): StretchData {
  const said = { ...(by === null ? {} : { by }), ...(reason === null ? {} : { reason }) };
  return { ...rest, from_s: fromS, to_s: toS, ...said };
}

const saidData = ({ by, reason }: Readonly<{ by: string | null; reason: string | null }>) => ({
  ...(by === null ? {} : { by }),
  ...(reason === null ? {} : { reason }),
});

type TaskData = NonNullable<PeopleFileData['handling_tasks']>[number];

function taskData({ fromS, toS, by, reason, ...rest }: HandlingTask): TaskData {
  return { ...rest, from_s: fromS, to_s: toS, ...saidData({ by, reason }) };
}

type RatingData = NonNullable<PeopleFileData['handling_ratings']>[number];

function ratingData({ remark, by, reason, load, ...rest }: HandlingRating): RatingData {
  if (load !== undefined) {
    const { task, rater } = rest;
    const words = { ...(remark === null ? {} : { remark }), ...saidData({ by, reason }) };
    return { task, scale: 'task-load', load, rater, ...words };
  }
  return { ...rest, ...(remark === null ? {} : { remark }), ...saidData({ by, reason }) };
}

/**
 * What people added to a session as the text of people.yaml.
 *
 * @returns YAML that `readPeopleFile` reads back to the same value; signs that a YAML text of a
 *   session must not hold are left out of it
 */
export function writePeopleFile(people: PeopleFile): string {
  const { clockCorrections, stretchCorrections, ruleDispositions = [] } = people;
  const { phaseEdits = [], handlingTasks = [], handlingRatings = [], crewQuestions = [] } = people;
  const { recordings = [] } = people;
  const data: PeopleFileData = {
    ...(clockCorrections.length > 0
      ? { clock_corrections: clockCorrections.map(correctionData) }
      : {}),
    ...(stretchCorrections.length > 0
      ? { stretch_corrections: stretchCorrections.map(stretchData) }
      : {}),
    ...(phaseEdits.length > 0 ? { phase_corrections: phaseEdits.map(phaseEditData) } : {}),
    ...(ruleDispositions.length > 0
      ? { rule_dispositions: ruleDispositions.map(dispositionData) }
      : {}),
    ...(handlingTasks.length > 0 ? { handling_tasks: handlingTasks.map(taskData) } : {}),
    ...(handlingRatings.length > 0 ? { handling_ratings: handlingRatings.map(ratingData) } : {}),
    ...(crewQuestions.length > 0 ? { crew_questions: crewQuestions.map(crewQuestionData) } : {}),
    ...(recordings.length > 0 ? { recordings: recordings.map(recordingData) } : {}),
  };
  return stringify(dataWithoutHiddenSigns(data), { lineWidth: 100 });
}
