/** What a velocity in other axes than its position may be, in words. */
import type { TurningAxes } from './navigation-report';

function orbitWords({ orbitS }: TurningAxes): string {
  return orbitS === null ? '' : `, n times r of an orbit of ${Math.round(orbitS / 60)} min`;
}

/** A clause that follows a colon, without a full stop. */
export function turningWords(turning: TurningAxes): string {
  const { about, reading } = turning;
  const turns = `axes that turn about ${about}`;
  const orbit = orbitWords(turning);
  switch (reading) {
    case 'as-stated':
      return `as of an inertial velocity beside a position in ${turns}${orbit}, as session.yaml states`;
    case 'inertial':
      return `as of an inertial velocity beside a position in ${turns}${orbit}, which session.yaml does not state`;
    case 'inertial-by-orbit':
      return `the sense and size of an inertial velocity in the orbit that session.yaml states, so velocity_frame: inertial is missing there`;
    case 'turned-twice':
      return `it is over by what was taken off, so the velocity was the rate of its position already and velocity_frame: inertial is wrong`;
    case 'normal-reversed':
      return `it is over by twice what was taken off, so the normal of the orbit points the other way than session.yaml states`;
    case 'against-orbit':
      return `the sense is against the orbit that session.yaml states: its normal points the other way, or n x r was taken off the wrong way when the file was made`;
    case 'other':
      return `as of an inertial velocity beside a position in ${turns}${orbit}, which is not the orbit that session.yaml states`;
  }
}
