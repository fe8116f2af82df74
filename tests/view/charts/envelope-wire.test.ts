import { expect, test } from 'vitest';
import {
  decodeEnvelope,
  type EnvelopeAnswer,
  encodeEnvelope,
} from '@/lib/view/charts/envelope-wire';

const answer: EnvelopeAnswer = {
  fromS: 0,
  toS: 10,
  pixels: 2,
  exact: true,
  missing: ['telemetry.csv:Δp, port'],
  groups: [
    {
      tS: Float64Array.from([2.5, 7.5]),
      columns: [
        {
          key: 'range',
          unit: 'm',
          stepS: 0.1,
          minimum: Float64Array.from([1 / 3, Number.NaN]),
          maximum: Float64Array.from([0.5, Number.NaN]),
        },
      ],
    },
    { tS: new Float64Array(), columns: [] },
  ],
};

test('an envelope comes back to the bit, missing samples and odd names included', () => {
  expect(decodeEnvelope(encodeEnvelope(answer))).toEqual(answer);
});

test('bytes that are cut short or of another kind are refused, not half read', () => {
  const bytes = encodeEnvelope(answer);
  for (const length of [0, 3, 10, bytes.byteLength - 8, bytes.byteLength - 1])
    expect(decodeEnvelope(bytes.slice(0, length))).toBeNull();
  expect(decodeEnvelope(new TextEncoder().encode('<!doctype html><p>sign in').buffer)).toBeNull();
});
