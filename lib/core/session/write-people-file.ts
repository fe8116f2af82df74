/** Writes people.yaml. */
import { stringify } from 'yaml';
import type { ClockCorrection } from './clock-correction';
import type { PeopleFileData } from './people-schema';
import type { PeopleFile } from './read-people-file';

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

/**
 * What people added to a session as the text of people.yaml.
 *
 * @returns YAML that `readPeopleFile` reads back to the same value
 */
export function writePeopleFile(people: PeopleFile): string {
  const data: PeopleFileData = { clock_corrections: people.clockCorrections.map(correctionData) };
  return stringify(data, { lineWidth: 100 });
}
