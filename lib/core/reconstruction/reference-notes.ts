/** What is said of the points and axes that the motion is measured in. */
import type { Issue } from '../result';
import type { SessionMotion } from './estimated-motion';
import type { TurningAxes } from './navigation-report';
import { turningWords } from './turning-words';

function note(code: string, severity: Issue['severity'], message: string, file: string): Issue {
  return { code, severity, message, file };
}

function ofPoints({ source }: SessionMotion): readonly Issue[] {
  const { file } = source.source;
  const { reference } = source;
  if (reference === undefined) return [];
  const { points, label, why, used } = reference;
  switch (points) {
    case 'assumed':
      return [
        note(
          'points-assumed',
          'note',
          `What ${file} is measured between is not stated: it is taken as from port to port.`,
          file,
        ),
      ];
    case 'elsewhere':
      return [
        note(
          'points-elsewhere',
          'warning',
          `The position in ${file} is of ${label}, and ${why}: every range, rate and offset is of these points, contact is not read from the motion, and the conditions at contact are not evaluated.`,
          file,
        ),
      ];
    case 'brought': {
      const columns = used.flatMap(({ channels }) => channels);
      const by = columns.length === 0 ? '' : ` and the attitude in ${columns.join(', ')}`;
      return [
        note(
          'points-brought',
          'note',
          `The position in ${file} is of ${label}; it and the velocity are brought to the ports by the lever arms of session.yaml${by}.`,
          file,
        ),
      ];
    }
    case 'ports':
      return [];
  }
}

function ofVelocity({ source }: SessionMotion): readonly Issue[] {
  const { file, declared } = source.source;
  const velocity = source.reference?.velocity;
  if (velocity === 'turned' && declared.orbit !== undefined) {
    const rate = declared.orbit.rateRadPerS.toPrecision(4);
    return [
      note(
        'velocity-turned',
        'note',
        `Velocity is inertial as stated; omega x r of axes that turn at ${rate} rad/s is taken off before anything is computed.`,
        file,
      ),
    ];
  }
  if (velocity !== 'inertial') return [];
  return [
    note(
      'velocity-inertial',
      'note',
      'Velocity is in inertial axes and session.yaml states no orbit to turn it by: range rate is not touched by that, lateral rates are as measured.',
      file,
    ),
  ];
}

/** A velocity that does not belong to its position's axes, found in the data and not taken off. */
function ofTurning({ source }: SessionMotion, turning: readonly TurningAxes[]): readonly Issue[] {
  const { file } = source.source;
  return turning
    .filter(({ reading }) => reading !== 'as-stated')
    .map((each) =>
      note(
        'velocity-turns',
        'warning',
        `Along ${each.axis} the rate of the position and the velocity of ${file} differ by ${(each.differenceMps.value ?? Number.NaN).toFixed(3)} m/s at ${each.distanceM.toFixed(0)} m, in proportion to the distance: ${turningWords(each)}.`,
        file,
      ),
    );
}

/**
 * From what to what the motion is measured and in which axes, one note each: assumed, brought, or left
 * where it is, and what the data themselves say against it.
 */
export function referenceNotes(
  session: SessionMotion,
  turning: readonly TurningAxes[],
): readonly Issue[] {
  return [...ofPoints(session), ...ofVelocity(session), ...ofTurning(session, turning)];
}
