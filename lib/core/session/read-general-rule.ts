/** Reads the two general shapes of a rule: a band and events. */
import { rateUnit, siUnitOfQuantity } from '../units/quantity';
import { findUnit } from '../units/unit';
import { quantityWords } from './general-rule';
import { readLimit } from './read-limit';
import type { BandRule, EventsRule, Limit, OrderTarget, QuantityRef, When } from './rule';
import type { BandData, BoundData, EventsData, MomentData, QuantityData } from './rules-schema';
import type { Report } from './schema-issues';
import type { KeyPath } from './yaml-text';

/** What both shapes have: read from the file already. */
export type ReadBase = Readonly<{ id: string; statement: string; when: When | null }>;

function readRef(data: QuantityData): QuantityRef {
  if (typeof data === 'string') return { kind: 'named', name: data };
  return 'rate_of' in data
    ? { kind: 'rate', of: data.rate_of }
    : { kind: 'vector-sum', of: data.vector_sum };
}

/** The quantity whose unit a bound is written in, beside "per second" for a rate. */
function unitOwner(ref: QuantityRef): string {
  if (ref.kind === 'named') return ref.name;
  return ref.kind === 'rate' ? ref.of : (ref.of[0] ?? '');
}

type RateUnit = Readonly<{ toSi: number; unit: string }>;

/** The unit of a rate as `X/s` where X is a known unit, or a known unit of the rate itself. */
function readRateUnit(spelling: string, of: string): RateUnit | null {
  const inner = siUnitOfQuantity(of);
  const whole = findUnit(spelling);
  if (whole !== null && (inner === null || whole.siUnit === rateUnit(inner))) {
    return { toSi: whole.toSi, unit: spelling };
  }
  const base = spelling.endsWith('/s') ? findUnit(spelling.slice(0, -2)) : null;
  if (base === null || (inner !== null && base.siUnit !== inner)) return null;
  return { toSi: base.toSi, unit: rateUnit(base.siUnit) };
}

type Bound = Readonly<{ limit: Limit; unit: string }>;

function readRateBound(data: BoundData, of: string, path: KeyPath, report: Report): Bound {
  const spelling = 'unit' in data ? String(data.unit) : '';
  const read = readRateUnit(spelling, of);
  if (read === null) {
    const inner = siUnitOfQuantity(of);
    const expected =
      inner === null
        ? 'a unit per second, such as kPa/s'
        : `${rateUnit(inner)}, or a unit of ${inner} followed by /s`;
    report([...path, 'unit'], {
      code: 'unit-wrong',
      message: `the unit of the rate of ${of} is ${expected}, found "${spelling}"`,
      expected,
      received: spelling,
    });
  }
  const toSi = read?.toSi ?? 1;
  const unit = read?.unit ?? spelling;
  if ('constant' in data) return { limit: { kind: 'constant', value: data.constant * toSi }, unit };
  if ('points' in data) {
    const points = data.points.map(([rangeM, value]) => [rangeM, value * toSi] as const);
    return { limit: { kind: 'by-range', points: ascending(points) }, unit };
  }
  report(path, {
    code: 'limit-misfit',
    message: 'the bound of a rate is constant or by range',
    expected: '{ constant, unit } or { by: range, points, unit }',
    received: 'another form',
  });
  return { limit: { kind: 'constant', value: 0 }, unit };
}

type Points = readonly (readonly [number, number])[];

/** Points with the range rising; those written from far to near are turned. */
function ascending(points: Points): Points {
  return [...points].sort((a, b) => a[0] - b[0]);
}

function readBound(data: BoundData, ref: QuantityRef, path: KeyPath, report: Report): Bound {
  const owner = unitOwner(ref);
  if (ref.kind === 'rate') return readRateBound(data, owner, path, report);
  if (!('points' in data)) return readLimit(data, owner, path, report);
  // Each point is read as a constant, so that unit and quantity are held against each other once.
  const unitAt = { constant: 1, unit: data.unit };
  const { limit, unit } = readLimit(unitAt, owner, path, report);
  const toSi = limit.kind === 'constant' ? limit.value : 1;
  const points = data.points.map(([rangeM, value]) => [rangeM, value * toSi] as const);
  return { limit: { kind: 'by-range', points: ascending(points) }, unit };
}

/** Reports a band whose lower bound lies over its upper one; only constants can be compared here. */
function reportReversed(
  low: Limit | null,
  high: Limit | null,
  path: KeyPath,
  report: Report,
): void {
  if (low?.kind !== 'constant' || high?.kind !== 'constant' || low.value <= high.value) return;
  report(path, {
    code: 'bounds-reversed',
    message: 'the lower bound is above the upper one',
    expected: '[low, high]',
    received: '[high, low]',
  });
}

/** Reads a quantity between two bounds; `null` leaves a side open. */
export function readBandRule(
  data: BandData,
  base: ReadBase,
  path: KeyPath,
  report: Report,
): BandRule {
  const quantity = readRef(data.quantity);
  const [lowData, highData] = data.between;
  const low =
    lowData === null ? null : readBound(lowData, quantity, [...path, 'between', 0], report);
  const high =
    highData === null ? null : readBound(highData, quantity, [...path, 'between', 1], report);
  if (low === null && high === null) {
    report([...path, 'between'], {
      code: 'key-missing',
      message: `no bound is given for ${quantityWords(quantity)}`,
      expected: 'a lower bound, an upper bound or both',
      received: '[null, null]',
    });
  }
  reportReversed(low?.limit ?? null, high?.limit ?? null, [...path, 'between'], report);
  return {
    ...base,
    kind: 'band',
    quantity,
    low: low?.limit ?? null,
    high: high?.limit ?? null,
    persistsS: data.persists_s ?? 0,
    unit: high?.unit ?? low?.unit ?? '1',
  };
}

function readMoment(data: MomentData): OrderTarget {
  return 'event' in data
    ? { kind: 'event', event: data.event }
    : { kind: 'step-edge', step: data.step, edge: data.edge };
}

/** Reads what a rule asks of events: an order with a time, a count, or never. */
export function readEventsRule(
  data: EventsData,
  base: ReadBase,
  path: KeyPath,
  report: Report,
): EventsRule {
  const { events } = data;
  if ('never' in events) {
    const { event } = events.never;
    return { ...base, kind: 'events', ask: { form: 'count', event, atLeast: null, atMost: 0 } };
  }
  if ('count' in events) {
    const { at_least: atLeast = null, at_most: atMost = null } = events;
    reportBounds(atLeast, atMost, [...path, 'events'], report);
    const { event } = events.count;
    return { ...base, kind: 'events', ask: { form: 'count', event, atLeast, atMost } };
  }
  const { within_s: atMostS = null, at_least_s: atLeastS = 0 } = events;
  reportBounds(atLeastS, atMostS, [...path, 'events'], report);
  const first = readMoment(events.first);
  const then = readMoment(events.then);
  return { ...base, kind: 'events', ask: { form: 'order', first, then, atLeastS, atMostS } };
}

function reportBounds(
  atLeast: number | null,
  atMost: number | null,
  path: KeyPath,
  report: Report,
): void {
  if (atLeast === null && atMost === null) {
    report(path, {
      code: 'key-missing',
      message: 'one of these keys is missing: at_least, at_most',
      expected: 'at_least, at_most or both',
      received: 'none of them',
    });
  } else if (atLeast !== null && atMost !== null && atLeast > atMost) {
    report(path, {
      code: 'bounds-reversed',
      message: `the lower bound ${atLeast} is above the upper bound ${atMost}`,
      expected: 'the lower bound up to the upper one',
      received: `${atLeast}, ${atMost}`,
    });
  }
}
