import { expect, test } from 'vitest';
import {
  readArrangement,
  readTimelineAddress,
  unknownStrips,
  writeArrangement,
  writeTimelineAddress,
} from '@/lib/view/timeline-url';

const known = {
  session: { fromS: 0, toS: 1000 },
  strips: new Set(['range', 'closing_rate', 'telemetry.csv:a,b%2C', 'telemetry.csv:x&y=1']),
  defaultStrips: ['range', 'closing_rate'],
  mission: 'declared' as const,
};
const axis = { kind: 'session' as const };

function query(text: string): Record<string, string> {
  return Object.fromEntries(new URLSearchParams(text));
}

test('the session as it opens has a bare address', () => {
  const address = readTimelineAddress({}, known);
  expect(address).toEqual({
    window: known.session,
    strips: known.defaultStrips,
    heights: {},
    selection: null,
    axis,
    sought: '',
  });
  expect(writeTimelineAddress(address, known)).toBe('');
});

test('an address comes back, with any name of a channel', () => {
  const address = {
    window: { fromS: 10.5, toS: 20.125 },
    strips: ['telemetry.csv:x&y=1', 'closing_rate+telemetry.csv:a,b%252C', 'range'],
    heights: { range: 192 },
    selection: { fromS: 12, toS: 13.25 },
    axis: { kind: 'since' as const, eventS: 977.2 },
    sought: 'hold & go',
  };
  expect(readTimelineAddress(query(writeTimelineAddress(address, known)), known)).toEqual(address);
});

test('no strips at all can be sent too', () => {
  const address = {
    window: known.session,
    strips: [],
    heights: {},
    selection: null,
    axis,
    sought: '',
  };
  expect(readTimelineAddress(query(writeTimelineAddress(address, known)), known)).toEqual(address);
});

test('what cannot be read or is not in this session is left out', () => {
  for (const asked of [
    { from: 'NaN', to: '20' },
    { from: '30', to: '20' },
    { from: '', to: '' },
    { from: '1e999', to: '2' },
    { from: ['1', '2'], to: undefined },
  ])
    expect(readTimelineAddress(asked, known).window).toEqual(known.session);
  const odd = readTimelineAddress({ strips: 'range,nothing,range,%E0%A4%A', sel: '9_3' }, known);
  expect(odd.strips).toEqual(['range']);
  expect(odd.selection).toBeNull();
  expect(readTimelineAddress({ sel: '-50_99999' }, known).selection).toEqual({
    fromS: 0,
    toS: 1000,
  });
  expect(readTimelineAddress({ from: '-1e9', to: '1e9' }, known).window).toEqual(known.session);
});

test('an axis comes back; one that the session does not have is session time', () => {
  for (const word of ['utc', 'mission', 'distance', 'since_12.5']) {
    const read = readTimelineAddress({ axis: word }, known);
    expect(writeTimelineAddress(read, known)).toBe(`?axis=${word}`);
  }
  const without = { ...known, mission: 'none' as const };
  expect(readTimelineAddress({ axis: 'mission' }, without).axis).toEqual(axis);
  expect(readTimelineAddress({ axis: 'since_x' }, known).axis).toEqual(axis);
});

test('an arrangement is the part of an address that holds for any session', () => {
  const address = readTimelineAddress(
    { from: '1', to: '9', sel: '2_3', strips: 'closing_rate+range~256', axis: 'utc' },
    known,
  );
  const kept = writeArrangement(address);
  expect(kept).toBe('strips=closing_rate%2Brange~256&axis=utc');
  expect(readArrangement(kept, known)).toEqual({
    strips: ['closing_rate+range'],
    heights: { 'closing_rate+range': 256 },
    axis: { kind: 'utc' },
  });
  const other = { ...known, strips: new Set(['range']) };
  expect(readArrangement('strips=range,elsewhere', other).strips).toEqual(['range']);
});

test('strips that a session does not have are named, not passed over in silence', () => {
  const list = 'range,elsewhere~192,closing_rate+nowhere,telemetry.csv:a%2Cb%252C';
  expect(unknownStrips(list, known)).toEqual(['elsewhere', 'nowhere']);
  expect(unknownStrips(null, known)).toEqual([]);
});
