import { expect, test } from 'vitest';
import { nearMisses } from '@/lib/core/reconstruction/near-misses';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { RuleResult } from '@/lib/core/reconstruction/reconstruction';
import type { RuleDisposition } from '@/lib/core/session/rule-disposition';
import { flownSession, TEST_ENGINE } from '../../support/flown-session';
import { JOLTED_ARRIVAL, RATE_RULE } from '../../support/rate-rule';
import { sampleFigure } from '../../support/sample-figure';

const said = { by: 'Reviewer', reason: 'as briefed', atS: null, amendedTo: null };
const WAIVED: RuleDisposition = {
  rule: 'rate',
  disposition: 'waived',
  givenBy: 'DIRECTOR',
  entry: { source: 'events.csv', line: 2 },
  ...said,
};

const flight = flownSession({
  ...JOLTED_ARRIVAL,
  stepS: 0.5,
  rules: [RATE_RULE],
  entries: [{ sourceS: 500, sourceEndS: null, event: 'go', text: 'Go.', speaker: null, line: 2 }],
});

test('a disposition changes no verdict, margin or exceedance, and taking it back changes nothing', () => {
  const plain = reconstruct(flight, TEST_ENGINE).reconstruction;
  const input = { ...flight, ruleDispositions: [WAIVED] };
  const disposed = reconstruct(input, TEST_ENGINE).reconstruction;
  expect(plain.rules.map(({ verdict }) => verdict)).toEqual(['broken']);
  expect(disposed.rules).toEqual(plain.rules);
  expect(disposed.exceedances).toEqual(plain.exceedances);
  expect({ ...disposed, dispositions: [], inputsSha256: '' }).toEqual({
    ...plain,
    inputsSha256: '',
  });
});

test('the entry gives its time and words; what is not there is said, not dropped', () => {
  const astray: RuleDisposition = { ...WAIVED, rule: 'speed', entry: { source: 'a.csv', line: 9 } };
  const input = { ...flight, ruleDispositions: [WAIVED, astray, { ...WAIVED, atS: 490 }] };
  const { dispositions } = reconstruct(input, TEST_ENGINE).reconstruction;
  expect(dispositions.map(({ atS, entryWords, fault }) => [atS, entryWords, fault])).toEqual([
    [500, 'Go.', null],
    [null, null, 'the rule file has no rule Speed; a.csv has no entry on line 9'],
    [490, 'Go.', null],
  ]);
});

function result(id: string, parts: Partial<RuleResult>): RuleResult {
  return {
    id,
    verdict: 'met',
    margin: null,
    instantMargin: null,
    unit: 'm',
    reason: null,
    explanation: '',
    atS: null,
    ...parts,
  };
}

/** By arithmetic: 0.4 / 0.1 = 4, 30 / 10 = 3, 0.025 / 0.05 = 0.5 half-widths. */
test('near misses in metres and seconds are ranked by their own half-widths', () => {
  const found = nearMisses({
    rules: [
      result('far', { margin: sampleFigure(0.4, 'm', 0.1), instantMargin: sampleFigure(0.4, 'm') }),
      result('no-interval', { margin: sampleFigure(0.001, 'm') }),
      result('order', { margin: sampleFigure(30, 's', 10) }),
      result('brief', {
        margin: sampleFigure(5, 'm', 0.1),
        instantMargin: sampleFigure(-0.2, 'm', 0.1),
      }),
      result('open', { verdict: 'undecided', margin: sampleFigure(-0.025, 'm', 0.05) }),
      result('gone', { verdict: 'broken', margin: sampleFigure(-1, 'm', 0.1) }),
      result('never', { margin: null }),
    ],
  });
  expect(
    found.map(({ rule, kind, halfWidths }) => [rule, kind, halfWidths?.value ?? null]),
  ).toEqual([
    ['brief', 'brief', -2],
    ['open', 'close', -0.5],
    ['order', 'close', 3],
    ['far', 'close', 4],
    ['no-interval', 'close', null],
  ]);
});
