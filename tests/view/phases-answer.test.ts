import { expect, test } from 'vitest';
import { phasesAnswer } from '@/lib/view/phases-answer';
import { phasesView } from '@/lib/view/phases-view';
import { sentenceText } from '@/lib/view/sentence';
import { SAMPLE_SESSION_ID, sampleFigure } from '../support/sample-figure';
import { sampleReconstruction } from '../support/sample-reconstruction';

/** What the phases say first of a flight whose moves were outside so long, at the worst by so much. */
function said(outsideS: number, halfS: number | null, peakMps: number): string {
  const phases = sampleReconstruction.phases.map((phase) => ({
    ...phase,
    rateDeviation: phase.rateDeviation && {
      ...phase.rateDeviation,
      peakMps: sampleFigure(peakMps, 'm/s', 0.001),
      outsideToleranceS: sampleFigure(outsideS, 's', halfS),
    },
  }));
  const sentences = phasesAnswer({ ...sampleReconstruction, phases }, SAMPLE_SESSION_ID);
  return sentences.map(sentenceText).join(' ');
}

test('the phases say first how the time was spent, and which move left the tolerance of its rate', () => {
  const text = said(6.1, 0.1, 0.14);
  expect(text).toMatch(/^Contact at .* The approach took /);
  expect(text).toMatch(
    /left its tolerance in .* for 6\.10 ± 0\.10 s, \+0\.1400 ± 0\.0010 m\/s off/,
  );
});

test('a move is named by its peak where the time outside is not sure, and not where neither is', () => {
  expect(said(0.1, 0.5, 0.14)).toContain('left its tolerance in');
  expect(said(6.1, null, 0.14)).toMatch(/for [^,]* \(its interval is not known\), \+0\.14/);
  expect(said(0.1, 0.5, 0.001)).toContain('No move surely left the tolerance');
  expect(phasesAnswer({ ...sampleReconstruction, plan: null }, SAMPLE_SESSION_ID)).toEqual([]);
});

test('a step that was not flown stands after what was flown during the one before it', () => {
  const { phases, steps } = sampleReconstruction;
  const [first, second] = steps;
  const begun = phases.find(({ step }) => step === first?.id);
  if (first === undefined || second === undefined || begun === undefined) throw new Error('sample');
  const unflown = { ...second, pieces: 0, startS: null, endS: null, durationS: null };
  const view = phasesView(
    {
      ...sampleReconstruction,
      phases: [begun, { ...begun, step: null }],
      steps: [first, { ...unflown, durationDeviationS: null, completed: false }],
    },
    SAMPLE_SESSION_ID,
  );
  expect(view.rows.map(({ kind }) => kind)).toEqual(['step', 'unplanned', 'step']);
});
