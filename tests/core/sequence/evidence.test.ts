import { expect, test } from 'vitest';
import {
  type DiscreteColumn,
  flagSighting,
  largestCount,
  stateChanges,
} from '@/lib/core/sequence/discretes';
import { heardBeside, logSightings } from '@/lib/core/sequence/log-sightings';
import type { LoggedEntry, Sighting } from '@/lib/core/sequence/sighting';
import { findOutOfOrder } from '@/lib/core/sequence/stage-order';

const entry = (timeS: number, parts: Partial<LoggedEntry>): LoggedEntry => ({
  timeS,
  source: 'events.csv',
  line: 2,
  event: null,
  text: null,
  speaker: null,
  ...parts,
});
const spoken = (timeS: number, text: string): LoggedEntry =>
  entry(timeS, { source: 'loop.vtt', speaker: 'PILOT', text });

const seen = (kind: Sighting['kind'], atS: number, halfS: number | null = null): Sighting => ({
  kind,
  atS,
  halfS,
  words: '',
  source: null,
  line: null,
  channels: [],
  method: '',
});

const column = (values: readonly number[]): DiscreteColumn => ({
  source: 'tm.csv',
  channel: 'mode',
  tS: Float64Array.from(values, (_, row) => row),
  values: Float64Array.from(values),
});

test('an event is found written, and heard where its own words are said near it', () => {
  const written = entry(100, { event: 'capture-armed', text: 'CAPTURE: Capture ring is out.' });
  const entries = [spoken(50, 'Capture ring is out.'), written, spoken(101, 'Capture ring is out')];
  expect(logSightings(entries, 'capture-armed').map(({ kind, atS }) => [kind, atS])).toEqual([
    ['written', 100],
    ['voice', 101],
  ]);
  expect(heardBeside(entries).get(written)?.timeS).toBe(101);
});

test('a call of contact is heard without a written entry; words about it are not a call', () => {
  const entries = [spoken(5, 'Expect contact in a minute.'), spoken(60, 'Contact.')];
  expect(logSightings(entries, 'contact').map(({ kind, atS }) => [kind, atS])).toEqual([
    ['voice', 60],
  ]);
});

test('a state changes between two rows; rows without a value change nothing', () => {
  const changes = stateChanges(column([1, 1, Number.NaN, 2, 2, 5]), 10);
  expect(changes).toEqual([
    { fromS: 1, atS: 3, from: 1, to: 2 },
    { fromS: 4, atS: 5, from: 2, to: 5 },
  ]);
  expect(stateChanges(column([1, 2, 1, 2]), 2)).toHaveLength(2);
});

test('a flag that stands up from the first row on has no instant', () => {
  expect(flagSighting(column([0, 0, 1, 1]))).toMatchObject({ atS: 1.5, halfS: 0.475 });
  expect(flagSighting(column([1, 1, 1]))).toBeNull();
});

test('latches are counted up to an instant', () => {
  const latches = column([0, 3, 9, 12, 12]);
  expect(largestCount(latches, 2)).toEqual({ count: 9, atS: 2 });
  expect(largestCount(latches, 10)).toEqual({ count: 12, atS: 3 });
});

test('a stage before one that it must follow is out of order, by evidence of one kind', () => {
  const orders = findOutOfOrder([
    { name: 'contact', sightings: [seen('motion', 100, 0.1), seen('written', 101)] },
    { name: 'soft capture', sightings: [seen('written', 100.5)] },
    { name: 'hard capture', sightings: [seen('written', 90)] },
  ]);
  expect(orders).toEqual([
    null,
    'before contact, which it must follow',
    'before contact and soft capture, which it must follow',
  ]);
});

test('a lag between moving and speaking is no fault, and neither is a difference in the noise', () => {
  const orders = findOutOfOrder([
    { name: 'contact', sightings: [seen('motion', 100, 0.2), seen('written', 103)] },
    { name: 'settled', sightings: [seen('motion', 99.9, 0.2)] },
    { name: 'soft capture', sightings: [seen('voice', 102)] },
  ]);
  expect(orders).toEqual([null, null, null]);
});

test('a stage that nobody saw between others that were seen is said', () => {
  const orders = findOutOfOrder([
    { name: 'soft capture', sightings: [seen('written', 1)] },
    { name: 'damping', sightings: [] },
    { name: 'hard capture', sightings: [seen('written', 9)] },
    { name: 'undocking', sightings: [] },
  ]);
  expect(orders).toEqual([null, 'not seen, though hard capture was', null, null]);
});
