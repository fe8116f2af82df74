import { expect, test } from 'vitest';
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
  const said = { clockCorrections: [other, { ...other, sourceS: 20 }], stretchCorrections: [] };
  const both = withCorrections({ ...STORED, clockCorrections: [TIE] }, said);
  expect(both.clockCorrections).toHaveLength(2);
  expect(both.clockCorrections?.[0]).toEqual(TIE);
  expect(both.clockCorrections?.[1]).toMatchObject({ sourceS: 20 });
});

test('nothing said leaves the input as it is', () => {
  const nothing = { clockCorrections: [], stretchCorrections: [] };
  expect(withCorrections(STORED, nothing)).toEqual(STORED);
});
