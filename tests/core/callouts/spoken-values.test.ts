import { expect, test } from 'vitest';
import { findCallouts } from '@/lib/core/callouts/find-callouts';
import { findUnit } from '@/lib/core/units/unit';
import {
  DOUBTFUL,
  type Labelled,
  MIXED,
  NEITHER,
  RANGES,
  RATES,
  SPOKEN_BEFORE,
  TOGETHER,
  UNIT_LEFT_OUT,
} from './labelled-utterances';

type Value = Readonly<{ kind: string; valueSi: number; doubtful: boolean }>;

/** `?0.3 ft/s` is a doubtful rate. */
function labelled(text: string): Value {
  const [number = '', name = ''] = text.replace('?', '').split(' ');
  const perMinute = name === 'm/min';
  const unit = findUnit(perMinute ? 'm/s' : name);
  if (unit === null) throw new Error(`no unit ${name}`);
  return {
    kind: name.includes('/') ? 'rate' : 'range',
    valueSi: (Number(number) * unit.toSi) / (perMinute ? 60 : 1),
    doubtful: text.startsWith('?'),
  };
}

/** What is read from one utterance, `before` said a minute earlier each. */
function read(text: string, before: readonly string[]): readonly Value[] {
  const entry = { sourceEndS: null, event: null, speaker: null };
  const entries = [...before, text].map((said, index) => ({
    ...entry,
    sourceS: index * 60,
    text: said,
    line: index + 1,
  }));
  return findCallouts(entries).filter(({ entryIndex }) => entryIndex === before.length);
}

const near = (a: Value, b: Value) =>
  a.kind === b.kind && Math.abs(a.valueSi - b.valueSi) <= 1e-6 * Math.abs(b.valueSi);

type Tally = { labelled: number; read: number; agreed: number };

/** Counts labels, values read, and those that agree; `misses` lists what does not. */
function tally(
  rows: readonly Labelled[],
  before: readonly string[],
  keep: (value: Value) => boolean,
): Tally & { misses: string[] } {
  const sum = { labelled: 0, read: 0, agreed: 0, misses: [] as string[] };
  for (const [text, ...values] of rows) {
    const wanted = values.map(labelled).filter(keep);
    const got = read(text, before).filter(keep);
    const left = [...got];
    for (const value of wanted) {
      const at = left.findIndex((one) => near(one, value));
      if (at >= 0) left.splice(at, 1);
      else sum.misses.push(`not found in: ${text}`);
    }
    for (const value of left) sum.misses.push(`${value.kind} ${value.valueSi} in: ${text}`);
    sum.labelled += wanted.length;
    sum.read += got.length;
    sum.agreed += got.length - left.length;
  }
  return sum;
}

const PLAIN = [...RANGES, ...RATES, ...TOGETHER, ...DOUBTFUL, ...NEITHER, ...MIXED];

test('the invented set has at least 200 utterances, fifty of them without any value', () => {
  expect(PLAIN.length + UNIT_LEFT_OUT.length).toBeGreaterThanOrEqual(200);
  expect(NEITHER.length).toBeGreaterThanOrEqual(50);
});

test.each([
  ['plain', PLAIN, [] as readonly string[]],
  ['unit left out', UNIT_LEFT_OUT, SPOKEN_BEFORE],
])('%s: every value that was spoken is read, and nothing else', (_, rows, before) => {
  const all = tally(rows, before, () => true);
  expect(all.misses).toEqual([]);
  expect(all.read).toBe(all.labelled);
});

test.each([
  ['plain', PLAIN, [] as readonly string[]],
  ['unit left out', UNIT_LEFT_OUT, SPOKEN_BEFORE],
])('%s: what is read as certain is a report of the moment', (_, rows, before) => {
  const certain = tally(rows, before, ({ doubtful }) => !doubtful);
  expect(certain.misses).toEqual([]);
});
