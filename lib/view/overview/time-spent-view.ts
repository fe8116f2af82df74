/** Where the time of an approach went beside its plan: unplanned runs and the steps themselves. */
import { type Figure, halfWidth95 } from '../../core/figure';
import { flownAgain, runKind } from '../../core/reconstruction/flight-course';
import { RUN_WORDS } from '../../core/reconstruction/kind-words';
import type { Phase, Reconstruction } from '../../core/reconstruction/reconstruction';
import { nameFromId } from '../../core/session/name-from-id';
import { countWord } from '../../core/units/number-text';
import { figureView } from '../figure-view';
import { spokenDuration } from '../format-time';
import { listParts, type Sentence } from '../sentence';

/** More unplanned runs than this are counted, not listed. */
const MOST_LISTED = 3;

/** A difference smaller than this is not told. */
const TOLD_FROM_S = 1;

/** The whole difference from the plan in two parts that add up: unplanned runs, and the steps. */
export function whereTheTimeWent(
  reconstruction: Reconstruction,
  took: Figure,
  sessionId: string,
): Sentence {
  const { steps } = reconstruction;
  const unplanned = unplannedRuns(reconstruction);
  const aside = added(
    unplanned.map(({ phase }) => phase.durationS),
    took,
    'Lengths of the runs that no step asked for, added.',
  );
  const plannedS = steps.reduce((sum, step) => sum + step.plannedS, 0);
  const restS = (took.value ?? 0) - (aside.value ?? 0) - plannedS;
  const parts: Sentence[] = [];
  if (unplanned.length > 0) {
    const label = 'Runs that no step asked for';
    const runs = unplannedParts(reconstruction, sessionId);
    const listedRuns =
      unplanned.length > MOST_LISTED ? runs : ['runs that no step asked for (', ...runs, ')'];
    parts.push([figureView(aside, { sessionId, label, form: 'spoken' }), ' in ', ...listedRuns]);
  }
  if (Math.abs(restS) >= TOLD_FROM_S) {
    const rest: Figure = {
      ...took,
      value: Math.abs(restS),
      uncertainty: added([took, aside], took, '').uncertainty,
      method: 'The whole difference from the plan, less the runs that no step asked for.',
    };
    parts.push([
      figureView(rest, { sessionId, label: 'Steps against their planned lengths', form: 'spoken' }),
      ` ${restS > 0 ? 'more' : 'less'} in the steps themselves`,
      ...most(reconstruction, restS),
    ]);
  }
  return listParts(parts);
}

/** The step whose own pieces differ most from its planned length, in the direction of the rest. */
function most(
  { phases, steps }: Pick<Reconstruction, 'phases' | 'steps'>,
  restS: number,
): Sentence {
  const differences = steps.map(({ id, plannedS }) => {
    const own = phases.filter((phase) => phase.step === id);
    const flownS = own.reduce((sum, phase) => sum + (phase.durationS.value ?? 0), 0);
    return { id, s: (flownS - plannedS) * Math.sign(restS) };
  });
  const [largest] = differences.sort((a, b) => b.s - a.s);
  if (steps.length < 2 || largest === undefined || largest.s < TOLD_FROM_S) return [];
  const word = restS > 0 ? 'longer' : 'shorter';
  return [`, above all ${nameFromId(largest.id)} (${spokenDuration(largest.s)} ${word})`];
}

/** Lengths added, half-widths in quadrature. */
function added(lengths: readonly Figure[], like: Figure, method: string): Figure {
  const halves = lengths.map(halfWidth95).filter((half) => half !== null);
  return {
    ...like,
    value: lengths.reduce((sum, length) => sum + (length.value ?? 0), 0),
    uncertainty: halves.length === 0 ? null : { random: Math.hypot(...halves), systematic: null },
    method,
  };
}

type UnplannedRun = Readonly<{ phase: Phase; index: number }>;

/** Runs that no step asked for, with their places among all runs. */
export function unplannedRuns({ phases }: Pick<Reconstruction, 'phases'>): readonly UnplannedRun[] {
  return phases.flatMap((phase, index) => (phase.step === null ? [{ phase, index }] : []));
}

/**
 * Runs that no step asked for, named with range and length.
 *
 * @param words `told apart`: the sentence says already that nobody planned them
 */
export function unplannedParts(
  reconstruction: Reconstruction,
  sessionId: string,
  words: 'told apart' | 'among others' = 'among others',
): Sentence {
  const unplanned = unplannedRuns(reconstruction);
  if (unplanned.length > MOST_LISTED) {
    return [`${countWord(unplanned.length)} runs that no step asked for`];
  }
  return listParts(
    unplanned.map(({ phase, index }): Sentence => {
      const kind = runKind(reconstruction, index);
      const again = flownAgain(reconstruction, index);
      const name = again === null ? RUN_WORDS[kind] : `${nameFromId(again)} again`;
      const isOff = kind === 'back-off' || kind === 'break-off';
      const plain = words === 'told apart' ? (kind === 'opening' ? 'an ' : 'a ') : 'an unplanned ';
      const article = isOff ? 'a ' : again === null ? plain : '';
      const where = phase.motion === 'opening' || phase.motion === 'closing' ? 'to' : 'at';
      const range = figureView(phase.rangeEndM, { sessionId, label: `Range, end of the ${name}` });
      const length = figureView(phase.durationS, {
        sessionId,
        label: `Length of the ${name}`,
        form: 'spoken',
      });
      return [`${article}${name} ${where} `, range, ' for ', length];
    }),
  );
}
