/** The phases in short: how the time was spent, and which moves left the tolerance of their rate. */
import { type Figure, halfWidth95 } from '../core/figure';
import type { Phase, Reconstruction } from '../core/reconstruction/reconstruction';
import { nameOfRun } from '../core/reconstruction/run-name';
import { plannedTolerance } from '../core/reconstruction/stated-figures';
import { figureView } from './figure-view';
import { breakOffSentences, noContact, stepsNotFlown, timeSentences } from './overview/course-view';
import { listParts, type Sentence } from './sentence';

const isKnown = (figure: Figure): boolean => halfWidth95(figure) !== null;

/**
 * Whether a run left the tolerance of its planned rate: surely, for some time or by its peak. A figure whose
 * interval is not known counts by its value, which the sentence says.
 */
export function isOutside(reconstruction: Reconstruction, { rateDeviation, step }: Phase): boolean {
  if (rateDeviation === null) return false;
  const least = (figure: Figure): number =>
    Math.abs(figure.value ?? 0) - (halfWidth95(figure) ?? 0);
  const tolerance = step === null ? null : plannedTolerance(reconstruction, step);
  return (
    least(rateDeviation.outsideToleranceS) > 0 ||
    least(rateDeviation.peakMps) > (tolerance?.value ?? Infinity)
  );
}

function rateSentence(reconstruction: Reconstruction, sessionId: string): Sentence {
  const { phases } = reconstruction;
  const held = phases.filter(({ rateDeviation }) => rateDeviation !== null);
  if (held.length === 0) return [];
  const outside = phases.flatMap((phase, index): Sentence[] => {
    const { rateDeviation } = phase;
    if (rateDeviation === null || !isOutside(reconstruction, phase)) return [];
    const name = nameOfRun(reconstruction, index);
    const view = (what: string) => ({ sessionId, label: `${name}, ${what}` });
    return [
      [
        `${name} for `,
        figureView(rateDeviation.outsideToleranceS, view('outside tolerance')),
        isKnown(rateDeviation.outsideToleranceS) ? ', ' : ' (its interval is not known), ',
        figureView(rateDeviation.peakMps, { ...view('peak off the planned rate'), form: 'signed' }),
        ' off at its worst',
      ],
    ];
  });
  return outside.length === 0
    ? ['No move surely left the tolerance of its planned rate.']
    : ['The closing rate left its tolerance in ', ...listParts(outside), '.'];
}

/** Sentences in the order a reviewer asks; empty without a plan. */
export function phasesAnswer(
  reconstruction: Reconstruction,
  sessionId: string,
): readonly Sentence[] {
  if (reconstruction.plan === null) return [];
  const { contact } = reconstruction;
  const ended: Sentence =
    contact === null
      ? noContact(reconstruction, sessionId)
      : [
          'Contact at ',
          figureView(contact.timeS, { sessionId, label: 'Contact', form: 'time' }),
          '.',
        ];
  return [
    ended,
    ...breakOffSentences(reconstruction, sessionId),
    ...timeSentences(reconstruction, sessionId),
    ...stepsNotFlown(reconstruction),
    rateSentence(reconstruction, sessionId),
  ].filter((sentence) => sentence.length > 0);
}
