/** The phases in short: how the time was spent, and which moves left the tolerance of their rate. */
import { halfWidth95 } from '../core/figure';
import type { Phase, Reconstruction } from '../core/reconstruction/reconstruction';
import { figureView } from './figure-view';
import { phaseName } from './labels';
import { breakOffSentences, stepsNotFlown, timeSentences } from './overview/course-view';
import { listParts, type Sentence } from './sentence';

/** Whether a run surely left the tolerance of its planned rate. */
export function isOutside({ rateDeviation }: Phase): boolean {
  const outside = rateDeviation?.outsideToleranceS;
  return outside?.value != null && outside.value > (halfWidth95(outside) ?? 0);
}

function rateSentence({ phases, steps }: Reconstruction, sessionId: string): Sentence {
  const held = phases.filter(({ rateDeviation }) => rateDeviation !== null);
  if (held.length === 0) return [];
  const outside = held.filter(isOutside).map((phase): Sentence => {
    const { rateDeviation, step } = phase;
    if (rateDeviation === null) return [];
    const name = phaseName(phase, steps.find(({ id }) => id === step)?.pieces ?? 1);
    const view = (what: string) => ({ sessionId, label: `${name}, ${what}` });
    return [
      `${name} for `,
      figureView(rateDeviation.outsideToleranceS, view('outside tolerance')),
      ', ',
      figureView(rateDeviation.peakMps, { ...view('peak off the planned rate'), form: 'signed' }),
      ' off at its worst',
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
  return [
    ...breakOffSentences(reconstruction, sessionId),
    ...timeSentences(reconstruction, sessionId),
    ...stepsNotFlown(reconstruction),
    rateSentence(reconstruction, sessionId),
  ].filter((sentence) => sentence.length > 0);
}
