import { expect, test } from 'vitest';
import { phasesAnswer } from '@/lib/view/phases-answer';
import { sentenceText } from '@/lib/view/sentence';
import { SAMPLE_SESSION_ID, sampleFigure } from '../support/sample-figure';
import { sampleReconstruction } from '../support/sample-reconstruction';

/** What the phases say first of a flight whose moves were outside so long. */
function said(outsideS: number, halfS: number): string {
  const phases = sampleReconstruction.phases.map((phase) => ({
    ...phase,
    rateDeviation: phase.rateDeviation && {
      ...phase.rateDeviation,
      peakMps: sampleFigure(0.14, 'm/s', 0.001),
      outsideToleranceS: sampleFigure(outsideS, 's', halfS),
    },
  }));
  const sentences = phasesAnswer({ ...sampleReconstruction, phases }, SAMPLE_SESSION_ID);
  return sentences.map(sentenceText).join(' ');
}

test('the phases say first how the time was spent, and which move left the tolerance of its rate', () => {
  const text = said(6.1, 0.1);
  expect(text).toMatch(/^The approach took /);
  expect(text).toMatch(
    /left its tolerance in .* for 6\.10 ± 0\.10 s, \+0\.1400 ± 0\.0010 m\/s off/,
  );
});

test('a time outside that is smaller than its half-width names no move', () => {
  expect(said(0.1, 0.5)).toContain('No move surely left the tolerance of its planned rate.');
  expect(phasesAnswer({ ...sampleReconstruction, plan: null }, SAMPLE_SESSION_ID)).toEqual([]);
});
