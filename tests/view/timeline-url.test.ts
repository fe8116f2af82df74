import { expect, test } from 'vitest';
import { readTimelineAddress, writeTimelineAddress } from '@/lib/view/timeline-url';

const known = {
  session: { fromS: 0, toS: 1000 },
  strips: new Set(['range', 'closing_rate', 'telemetry.csv:a,b%2C', 'telemetry.csv:x&y=1']),
  defaultStrips: ['range', 'closing_rate'],
};

function query(text: string): Record<string, string> {
  return Object.fromEntries(new URLSearchParams(text));
}

test('the session as it opens has a bare address', () => {
  const address = readTimelineAddress({}, known);
  expect(address).toEqual({ window: known.session, strips: known.defaultStrips, selection: null });
  expect(writeTimelineAddress(address, known)).toBe('');
});

test('an address comes back, with any name of a channel', () => {
  const address = {
    window: { fromS: 10.5, toS: 20.125 },
    strips: ['telemetry.csv:x&y=1', 'telemetry.csv:a,b%2C', 'range'],
    selection: { fromS: 12, toS: 13.25 },
  };
  expect(readTimelineAddress(query(writeTimelineAddress(address, known)), known)).toEqual(address);
});

test('no strips at all can be sent too', () => {
  const address = { window: known.session, strips: [], selection: null };
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
