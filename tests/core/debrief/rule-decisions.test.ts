/** A waiver stands beside its verdict wherever a debrief tells of it, and changes none. */
import { expect, test } from 'vitest';
import type { DebriefMaterial } from '@/lib/core/debrief/debrief-material';
import { summaryPhrases } from '@/lib/core/debrief/draft-summary';
import { decidedVerdict, explainedWithDecisions } from '@/lib/core/debrief/rule-decisions';
import { staleClaims } from '@/lib/core/debrief/stale-claims';
import type { DispositionResult } from '@/lib/core/reconstruction/reconstruction';
import { nearMissRows } from '@/lib/view/near-miss-view';
import { sampleMaterial } from '../../support/sample-material';

const decision = (rule: string): DispositionResult => ({
  rule,
  disposition: 'waived',
  givenBy: 'DIRECTOR',
  atS: 61.5,
  entry: { source: 'events.csv', line: 22 },
  entryWords: 'You are go.',
  amendedTo: null,
  by: 'Reviewer',
  reason: 'The leak check was done.',
  fault: null,
});

const { reconstruction } = sampleMaterial;
const decided = {
  ...sampleMaterial,
  reconstruction: {
    ...reconstruction,
    dispositions: [decision('closing-rate'), decision('corridor')],
  },
};
const [closing, corridor] = reconstruction.rules;
if (closing === undefined || corridor === undefined) throw new Error('the sample has two rules');

const proseOf = (material: DebriefMaterial): string =>
  summaryPhrases(material)
    .filter((phrase) => typeof phrase === 'string')
    .join('');

test('verdict and reason of a waived rule keep their words and add who, when and which entry', () => {
  expect(decidedVerdict(decided, closing)).toBe('broken; waived');
  expect(decidedVerdict(sampleMaterial, closing)).toBe('broken');
  expect(explainedWithDecisions(decided, closing)).toBe(
    `${closing.explanation} Waived by DIRECTOR at 00:01:01.5 (events.csv, line 22): The leak check was done.`,
  );
  expect(explainedWithDecisions(sampleMaterial, closing)).toBe(closing.explanation);
});

test('the summary says of a broken rule that it was waived; taken back, the sentence is told as stale', () => {
  const claim = 'Rule “Closing rate” was waived';
  const prose = proseOf(decided);
  expect(prose).toContain(`${claim} by DIRECTOR; the verdict stays.`);
  expect(proseOf({ ...decided, reconstruction })).not.toContain('waived');
  expect(staleClaims(prose, proseOf({ ...decided, reconstruction }), sampleMaterial)).toContain(
    claim,
  );
});

test('a near miss says what was decided about its rule', () => {
  const row = nearMissRows(decided.reconstruction, 's').find(({ key }) => key === 'corridor');
  expect(row?.decisions).toEqual(['waived by DIRECTOR at 00:01:01.5']);
});
