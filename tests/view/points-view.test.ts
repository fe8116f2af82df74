import { expect, test } from 'vitest';
import { makeMaterial } from '@/lib/core/debrief/debrief-material';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { runsText } from '@/lib/core/debrief/html/html-runs';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import type { NavigationReport } from '@/lib/core/reconstruction/navigation-report';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import type { SourceReference } from '@/lib/core/reconstruction/source-reference';
import { contactView } from '@/lib/view/contact-view';
import { overviewView } from '@/lib/view/overview/overview-view';
import { pointsView } from '@/lib/view/points-view';
import { sentenceText } from '@/lib/view/sentence';
import { SAMPLE_SESSION_ID } from '../support/sample-figure';
import { countingIds, sampleMaterial } from '../support/sample-material';
import { sampleReconstruction } from '../support/sample-reconstruction';

const WHY =
  'the position is of centre of mass to port and cannot be brought to the ports: neither attitude is recorded';
const ELSEWHERE: SourceReference = {
  points: 'elsewhere',
  label: 'centre of mass to port',
  why: 'neither attitude is recorded',
  velocity: 'as given',
  rateSdMps: 0,
  turnSdMps: null,
  used: [],
};

function away(): Reconstruction {
  const { contact } = sampleReconstruction;
  if (contact === null) throw new Error('the sample has a contact');
  const navigation: NavigationReport = {
    solution: { file: 'telemetry.csv', channels: [] },
    selector: null,
    feeds: [],
    unused: [],
    steps: [],
    pairs: [],
    accuracies: [],
    turning: [],
    sources: [
      {
        file: 'telemetry.csv',
        isSolution: true,
        sensor: null,
        points: 'centre of mass to port',
        leverArmM: null,
        measuresVelocity: 'yes',
        velocityFrame: null,
        stamp: null,
        latencyS: null,
        available: null,
        reference: ELSEWHERE,
      },
    ],
  };
  return {
    ...sampleReconstruction,
    navigation,
    contact: { ...contact, basis: 'event', conditions: {}, ages: {}, notEvaluated: WHY },
  };
}

test('figures of other points say so over every screen, and in the answer', () => {
  expect(pointsView(sampleReconstruction)).toBeNull();
  expect(pointsView(away())?.notice).toContain('of centre of mass to port, not of the ports');
  const { answer, limits } = overviewView({
    reconstruction: away(),
    findings: [],
    track: null,
    sessionId: SAMPLE_SESSION_ID,
  });
  const words = answer.map(sentenceText).join(' ');
  expect(words).toContain(`The conditions at contact are not evaluated: ${WHY}.`);
  expect(words).not.toContain('was not measured');
  expect(limits.map(sentenceText).join(' ')).not.toContain('Not measured at contact');
});

test('every condition at contact is not evaluated, with the reason', () => {
  const view = contactView(away(), SAMPLE_SESSION_ID);
  expect(view?.notEvaluated).toBe(WHY);
  expect(new Set(view?.rows.map(({ standing }) => standing))).toEqual(new Set(['not evaluated']));
});

test('the debrief says why, in its words and under its table', () => {
  const material = makeMaterial({ ...sampleMaterial, reconstruction: away() });
  const document = resolveDocument(
    draftDebrief(material, BUILT_IN_BLOCKS, countingIds()),
    material,
    BUILT_IN_BLOCKS,
  );
  const words = document.blocks
    .map((block) => (block.kind === 'paragraph' ? runsText(block.runs) : ''))
    .join(' ');
  expect(words).toContain(`The conditions at contact are not evaluated: ${WHY}.`);
  expect(words).toContain('Every range, rate and offset here is of centre of mass to port');
  const table = document.blocks.find(
    (block) => block.kind === 'table' && block.caption === 'Conditions at contact',
  );
  expect(table?.kind === 'table' ? table.note : '').toContain(`Not evaluated: ${WHY}.`);
});
