import { expect, test } from 'vitest';
import type { CaptureView } from '@/lib/view/capture-view';
import { contactAnswer } from '@/lib/view/contact-answer';
import { contactView } from '@/lib/view/contact-view';
import { sentenceText } from '@/lib/view/sentence';
import { SAMPLE_SESSION_ID } from '../support/sample-figure';
import { sampleReconstruction } from '../support/sample-reconstruction';

type Stage = CaptureView['stages'][number];

const contact = contactView(sampleReconstruction, SAMPLE_SESSION_ID);

function said(stages: readonly Partial<Stage>[]): string {
  const capture = { stages: stages as readonly Stage[] } as CaptureView;
  return contactAnswer(sampleReconstruction, contact, capture).map(sentenceText).join(' ');
}

test('contact says first when it was and how it stood, then each stage of capture by its standing', () => {
  const text = said([
    { name: 'Soft capture', standing: 'as planned', outOfOrder: null },
    { name: 'Damping', standing: 'not known', outOfOrder: null },
    { name: 'Ring retraction', standing: 'as planned', outOfOrder: null },
    { name: 'Hard capture', standing: 'late', outOfOrder: null },
  ]);
  expect(text).toMatch(/^Contact at 00:13:16\.3 ± 0\.4 s .*, closing at 0\.0741/);
  expect(text).toMatch(
    /Hard capture was late\. Soft capture and ring retraction were as planned\. Damping is not known\.$/,
  );
});

test('stages that cannot be called are named with whose bounds they lie close to', () => {
  const close = { standing: 'too close to call', outOfOrder: null } as const;
  expect(
    said([
      { name: 'Damping', ...close },
      { name: 'Hard capture', ...close },
    ]),
  ).toMatch(/Damping and hard capture lie too close to their bounds to call\.$/);
});

test('a stage out of order is said, and no contact leaves the screen to say so', () => {
  expect(said([{ name: 'Damping', standing: 'as planned', outOfOrder: 'before contact' }])).toMatch(
    /Stages came out of order\.$/,
  );
  expect(contactAnswer(sampleReconstruction, null, null)).toEqual([]);
});
