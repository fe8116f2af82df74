import { expect, test } from 'vitest';
import { wordsKey } from '@/lib/core/session/words-key';
import { type StoredInput, withCorrections } from '@/lib/server/jobs/stored-input';

const STORED: StoredInput = {
  title: 'Small',
  kind: 'flight',
  zero: { taiNs: 0n },
  zeroUtc: '2031-03-02T10:00:00Z',
  plan: null,
  planSha256: null,
  rules: [],
  rulesSha256: null,
  sources: [],
  notComputed: [],
};
const TIE = {
  kind: 'tie-point',
  source: 'loop.vtt',
  sourceS: 10,
  sessionS: 12,
  sdS: 0.2,
  by: 'R. Okafor',
  reason: 'the horn is heard',
} as const;

test('words that came back with an exported people.yaml count once', () => {
  const { kind, source, ...rest } = TIE;
  const other = { ...rest, source, kind };
  const standing = { clockCorrections: [other, { ...other, sourceS: 20 }], stretchCorrections: [] };
  const both = withCorrections({ ...STORED, clockCorrections: [TIE] }, { standing, undone: [] });
  expect(both.clockCorrections).toHaveLength(2);
  expect(both.clockCorrections?.[0]).toEqual(TIE);
  expect(both.clockCorrections?.[1]).toMatchObject({ sourceS: 20 });
});

test('nothing said leaves the input as it is', () => {
  const nothing = { clockCorrections: [], stretchCorrections: [] };
  expect(withCorrections(STORED, { standing: nothing, undone: [] })).toEqual(STORED);
});

test('a word of the folder that was undone here does not count, whatever the order of its keys', () => {
  const { kind, source, ...rest } = TIE;
  const standing = { clockCorrections: [], stretchCorrections: [] };
  const stored = { ...STORED, clockCorrections: [TIE, { ...TIE, sourceS: 20 }] };
  const undone = [wordsKey({ ...rest, source, kind })];
  const left = withCorrections(stored, { standing, undone });
  expect(left.clockCorrections).toEqual([{ ...TIE, sourceS: 20 }]);
  // Said here in the same words by somebody since, it counts after all.
  const again = withCorrections(stored, {
    standing: { ...standing, clockCorrections: [TIE] },
    undone,
  });
  expect(again.clockCorrections).toEqual([{ ...TIE, sourceS: 20 }, TIE]);
});
