/** What was said near the moments that matter: few lines, chosen by their distance from those. */
import type { Reconstruction, SessionEvent } from '../../reconstruction/reconstruction';
import { entryKind } from '../../sequence/sighting';

/** Moments that a first look is about: contact, stretches beyond a limit, rules broken. */
function momentsOf({ contact, exceedances, rules }: Reconstruction): readonly number[] {
  const inQuestion = rules.filter(({ verdict }) => verdict === 'broken' || verdict === 'undecided');
  return [
    contact?.timeS.value ?? null,
    ...exceedances.flatMap(({ startS, worstS }) => [startS.value, worstS.value]),
    ...inQuestion.map(({ atS }) => atS),
  ].filter((atS) => atS !== null);
}

/**
 * Spoken lines, those nearest to contact and to what is in question, in the order said.
 *
 * @param most how many at most
 * @returns the lines, and how many were spoken in all
 *
 * Source: common practice, no source; a first look quotes, it does not choose by meaning.
 */
export function nearestWords(
  reconstruction: Reconstruction,
  most: number,
): Readonly<{ lines: readonly SessionEvent[]; spoken: number }> {
  const spoken = reconstruction.events.filter(
    (line) => line.text !== null && entryKind(line) === 'voice',
  );
  const moments = momentsOf(reconstruction);
  const distance = ({ timeS }: SessionEvent) =>
    moments.length === 0 ? -timeS : Math.min(...moments.map((atS) => Math.abs(atS - timeS)));
  const near = [...spoken].sort((a, b) => distance(a) - distance(b)).slice(0, most);
  return { lines: near.sort((a, b) => a.timeS - b.timeS), spoken: spoken.length };
}
