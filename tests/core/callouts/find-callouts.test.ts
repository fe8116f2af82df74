import { expect, test } from 'vitest';
import { findCallouts } from '@/lib/core/callouts/find-callouts';
import { pairCallout } from '@/lib/core/callouts/pair-callout';
import { readNumber } from '@/lib/core/callouts/spoken-number';
import { readTokens } from '@/lib/core/callouts/spoken-tokens';

const say = (text: string) =>
  findCallouts([{ sourceS: 10, sourceEndS: null, event: null, text, speaker: null, line: 1 }]);

test.each([
  ['200', 200],
  ['10,000', 10_000],
  ['1,234.5', 1234.5],
  ['0,25', 0.25],
  ['.07', 0.07],
  ['2 1/2', 2.5],
  ['1/2', 0.5],
  ['2½', 2.5],
  ['two hundred', 200],
  ['two hundred and five', 205],
  ['one thousand two hundred', 1200],
  ['a hundred', 100],
  ['eighty', 80],
  ['twenty-five', 25],
  ['twenty five', 25],
  ['one twenty', 120],
  ['two fifty', 250],
  ['two zero zero', 200],
  ['one oh five', 105],
  ['point two five', 0.25],
  ['zero point zero seven', 0.07],
  ['zero point twenty five', 0.25],
  ['two and a half', 2.5],
  ['half a', 0.5],
])('%j is the number %d', (text, expected) => {
  const tokens = readTokens(text);
  expect(readNumber(tokens, 0)).toEqual({ value: expected, length: tokens.length });
});

test.each([
  ['Range 200 meters.', 200],
  ['Two hundred metres.', 200],
  ['Passing 120 metres.', 120],
  ['We are inside 100 meters, corridor is good.', 100],
  ['Eighty meters to go.', 80],
  ['Now at 60 m and closing.', 60],
  ['One fifty metres.', 150],
  ['150m', 150],
  ['Heron passing 50 metres.', 50],
  ['Passing the 50 metre mark.', 50],
  ['Range is 100 feet.', 30.48],
  ['Copy, two and a half metres.', 2.5],
  ['CREW: Range 20 metres.', 20],
  ["Okay. We're sitting about 2 feet out - -", 0.6096],
  ['20 metres from the port.', 20],
])('%j is a range of %d m', (text, expectedM) => {
  expect(say(text)).toEqual([
    expect.objectContaining({
      kind: 'range',
      valueSi: expect.closeTo(expectedM, 9),
      doubtful: false,
      text,
    }),
  ]);
});

test.each([
  ['Closing at 0.25 meters per second.', 0.25],
  ['Point two five metres a second.', 0.25],
  ['Closing at 27 centimeters per second.', 0.27],
  ['0.07 m/s', 0.07],
  ['Half a foot per second.', 0.1524],
  ['Closing six metres per minute.', 0.1],
  ['Opening at 0.1 metres per second.', -0.1],
  ['Closing at 0.1 mps.', 0.1],
])('%j is a closing rate of %d m/s', (text, expectedMps) => {
  expect(say(text)).toEqual([
    expect.objectContaining({
      kind: 'rate',
      valueSi: expect.closeTo(expectedMps, 9),
      doubtful: false,
    }),
  ]);
});

test('a range and a rate in one breath are two values', () => {
  expect(
    say('Range 15 meters, closing 0.07 meters per second.').map(({ kind, valueSi, doubtful }) => [
      kind,
      valueSi,
      doubtful,
    ]),
  ).toEqual([
    ['range', 15, false],
    ['rate', 0.07, false],
  ]);
});

test.each([
  'Go to page 12, step 4.',
  'Camera two is at zoom 15.',
  'Hard capture, twelve hooks closed.',
  'Hold the 30 m point.',
  'The 200 metre hold is stable.',
  'Back off to one twenty.',
  'Sixty.',
  'Roll is 3 degrees.',
  'The corridor is 5 metres wide.',
  'Drifting left at 0.02 metres per second.',
  'T minus 5 m 30 s.',
  'Deceleration 0.01 metres per second squared.',
  'Altitude 410 kilometres.',
  'Quantity reads 55 percent.',
  'Crew is go.',
  '',
])('%j is neither', (text) => {
  expect(say(text)).toEqual([]);
});

test.each([
  ['Hold the 30 m for the poll.', 'Hold'],
  ['Back off to one twenty metres.', 'Back'],
  ['Expect 50 metres in two minutes.', 'Expect'],
  ['We are not at 50 metres yet.', 'not'],
  ['Range between 40 and 50 metres.', 'between'],
  ['Call me at 100 metres.', 'Call'],
  ['At 50 metres, expect a poll.', 'expect'],
  ['Is that 40 metres?', 'question'],
  ['We were at 80 metres a minute ago.', 'were'],
  ['Limit is 0.1 meters per second.', 'Limit'],
  ['No closer than 30 metres.', 'No'],
  ['Negative, 30 metres.', 'Negative'],
  ['Approaching 50 metres.', 'Approaching'],
  ['Half a metre left.', 'left'],
  ['Two metres to port.', 'port'],
  ['2.1 miles.', 'miles'],
  ['45 feet per second - 49 feet per second.', 'more than one'],
])('%j is doubtful: %s', (text, reason) => {
  const found = say(text);
  expect(found.length).toBeGreaterThan(0);
  for (const value of found) {
    expect(value.doubtful).toBe(true);
    expect(value.reason).toContain(reason);
  }
});

test('a value knows its entry and its time', () => {
  const entry = { sourceS: 5, sourceEndS: 7, event: null, speaker: 'CREW', line: 3 };
  const found = findCallouts([
    { ...entry, text: null },
    { ...entry, sourceS: 9, text: 'Range 10 metres.' },
  ]);
  expect(found).toMatchObject([{ entryIndex: 1, sourceS: 9 }]);
});

test('a spoken value is held against what was measured when it was meant', () => {
  const [range] = say('Range 200 meters.');
  if (range === undefined) throw new Error('not found');
  const samplers = {
    rangeM: (timeS: number) => 300 - 0.25 * timeS,
    closingRateMps: () => 0.25,
  };
  expect(pairCallout(range, 399.2, samplers)).toMatchObject({
    telemetrySi: expect.closeTo(200.2, 9),
    differenceSi: expect.closeTo(-0.2, 9),
  });
  expect(pairCallout(range, 399.2, { ...samplers, rangeM: () => NaN })).toMatchObject({
    telemetrySi: null,
    differenceSi: null,
  });
});

test('a megabyte of numbers without a full stop is read in bounded time', () => {
  const text = `Range 200 metres ${'one hundred '.repeat(85_000)}`;
  const entry = { sourceS: 0, sourceEndS: null, event: null, text, speaker: null, line: 1 };
  const values = findCallouts([entry]);
  expect(values.some(({ valueSi }) => valueSi === 200)).toBe(true);
});
