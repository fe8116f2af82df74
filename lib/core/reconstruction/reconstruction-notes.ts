/** What was not computed, and what the data cannot say, in sentences. */
import type { ContactTime } from '../phases/contact-time';
import { leadsAway } from '../phases/match-steps';
import type { Issue } from '../result';
import type { SessionInput, TelemetrySource } from '../session/session-input';
import type { SessionMotion } from './estimated-motion';
import { logEndNotes } from './log-end-notes';
import type { TurningAxes } from './navigation-report';
import type { PlacedSource } from './placed-sources';
import { referenceNotes } from './reference-notes';
import { isElsewhere } from './source-reference';
import { contradictionText } from './spoken-contradiction';

function note(code: string, message: string, file?: string): Issue {
  return { code, severity: 'note', message, ...(file === undefined ? {} : { file }) };
}

/** Logs whose spoken ranges contradict their clock or the telemetry; the gravest, so it comes first. */
function contradictions(logs: readonly PlacedSource[]): readonly Issue[] {
  return logs.flatMap(({ source: { file }, contradiction }): Issue[] =>
    contradiction === null
      ? []
      : [
          {
            code: `spoken-against-${contradiction.kind}`,
            severity: 'warning',
            message: contradictionText(contradiction, file),
            file,
          },
        ],
  );
}

/** Where the components of the position stand in sources of their own; empty where they do not. */
function apartText(telemetry: readonly TelemetrySource[]): string {
  const found = ['position.x', 'position.y', 'position.z'].map((as) => {
    const source = telemetry.find(({ channels }) => channels.some((each) => each.as === as));
    return source === undefined ? null : `${as} in ${source.file}`;
  });
  return found.includes(null)
    ? ''
    : ` Its components stand in different sources: ${found.join(', ')}; files listed under one source (files) are joined by their times.`;
}

/**
 * Everything left out, one note each, in a fixed order.
 *
 * @param input the session
 * @param session its motion; `null` where none could be estimated
 * @param contact the instant of contact; `null` for none
 * @param logs the logs on session time
 * @param turning velocities found in other axes than their position
 */
export function notesOf(
  input: SessionInput,
  session: SessionMotion | null,
  contact: ContactTime | null,
  logs: readonly PlacedSource[],
  turning: readonly TurningAxes[],
): readonly Issue[] {
  const notes: Issue[] = [...input.notComputed, ...contradictions(logs)];
  const telemetry = input.sources.filter((source) => source.type === 'telemetry');
  if (telemetry.length === 0) {
    notes.push(
      note(
        'no-telemetry',
        'No telemetry: phases, rates and conditions at contact are not computed.',
      ),
    );
  } else if (session === null) {
    notes.push(
      note(
        'no-motion',
        `No source gives position in three components or a range: phases and rates are not computed.${apartText(telemetry)}`,
      ),
    );
  }
  if (input.plan === null) {
    notes.push(note('no-plan', 'No plan: phases, steps and deviations are not computed.'));
  }
  if (input.rules.length === 0) notes.push(note('no-rules', 'No rules: none were evaluated.'));
  if (session !== null) {
    const { motion, source } = session;
    const { file, declared } = source.source;
    if (motion.basis === 'position-only' || motion.basis === 'range-only') {
      notes.push(
        note(
          'rate-derived',
          'Velocity is not measured throughout: rates are derived from position, and short changes of rate are flattened.',
          file,
        ),
      );
    }
    if (declared.accuracy === null) {
      notes.push(
        note(
          'accuracy-not-stated',
          'The source states no accuracy: intervals hold the scatter of the data, not a bias they share.',
          file,
        ),
      );
    }
    notes.push(...referenceNotes(session, turning));
    for (const other of telemetry) {
      if (other.file === file) continue;
      const moves = other.channels.some(({ as }) => as === 'position.x' || as === 'range');
      if (!moves) continue;
      notes.push(
        note(
          'second-motion-source',
          `Position in ${other.file} is not used: the motion is estimated from ${file} alone.`,
          other.file,
        ),
      );
    }
  }
  if (session !== null && contact === null && !leadsAway(input.plan)) {
    notes.push(
      note(
        'no-contact',
        isElsewhere(session.source.reference)
          ? 'No contact: the position is not of the ports, and no log names it.'
          : 'No contact, so no conditions at contact: the data do not reach the plane of first touch, and no log names it.',
      ),
    );
  }
  const lastRowS = session?.motion.tS.at(-1) ?? Number.NaN;
  if (contact !== null && contact.timeS - lastRowS > 2) {
    const beforeS = (contact.timeS - lastRowS).toFixed(1);
    notes.push(
      note(
        'data-end-before-contact',
        `The telemetry ends ${beforeS} s before contact: what the vehicle did between is not known.`,
      ),
    );
  }
  const untilS = contact?.timeS ?? lastRowS;
  const what = contact === null ? 'the telemetry ends' : 'contact';
  notes.push(...logEndNotes(logs, { timeS: untilS, what }));
  const attitude = telemetry.some((source) =>
    source.channels.some(({ as }) => as.startsWith('attitude_error.')),
  );
  if (attitude) {
    notes.push(
      note(
        'attitude-against-command',
        'Attitude error is against command; the attitude of the target is not known.',
      ),
    );
  }
  return notes;
}
