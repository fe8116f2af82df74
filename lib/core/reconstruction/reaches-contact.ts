/** Whether the recorded motion goes all the way: only then can a step be said not to have been flown. */
import type { Reconstruction } from './reconstruction';

/** True where the stretch that was evaluated ends at contact, not where the data break off. */
export function motionReachesContact({
  contact,
  evaluated,
}: Pick<Reconstruction, 'contact' | 'evaluated'>): boolean {
  return contact !== null && evaluated !== null && contact.timeS.value === evaluated.toS;
}
