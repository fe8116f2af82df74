import { expect, test } from 'vitest';
import { NORMAL_95 } from '@/lib/core/math/statistics';
import type { RateCourses } from '@/lib/core/motion/rate-courses';
import { coursedExceedance, coursedMarginHalf } from '@/lib/core/rules/course-margin';
import { instantMargin, persistentMargin, stretchesBeyond } from '@/lib/core/rules/margins';
import type { RoomOverTime } from '@/lib/core/rules/room-over-time';
import { evaluateRule } from '@/lib/core/rules/rule-kinds';
import type { BandRule } from '@/lib/core/session/rule';
import { expectWithin } from '../../support/expect-within';
import { rowsTo } from '../../support/motion-along-axis';
import { contextOf } from '../../support/rule-signal';

/** Limit 0.2 m/s; the rate is 0.1 but for an excess from 50 s to 60 s that is read as 0.15 higher. */
const [LIMIT_MPS, RATE_MPS, HEIGHT_MPS] = [0.2, 0.1, 0.15];
const STEP_S = 0.2;

/** Three kinds of 80 courses (see `rate-courses.ts`), each by its number in its kind. */
function coursesOf(course: (kind: number, share: number) => (atS: number) => number): RateCourses {
  const offsMps = [0, 1, 2].flatMap((kind) =>
    Array.from({ length: 80 }, (_, k) => {
      const rate = course(kind, (k + 0.5) / 80);
      return Float64Array.from(
        { length: 151 },
        (_, i) => rate(40 + i * STEP_S) - readMps(40 + i * STEP_S),
      );
    }),
  );
  return { fromS: 40, stepS: STEP_S, offsMps, squareShare: 0 };
}

function readMps(atS: number): number {
  return RATE_MPS + (atS >= 50 && atS <= 60 ? HEIGHT_MPS : 0);
}

function roomWith(courses: RateCourses): RoomOverTime {
  const tS = Float64Array.from(rowsTo(100, STEP_S));
  const value = tS.map(readMps);
  const sd = tS.map(() => 0.001);
  return {
    quantity: {
      ...{ tS, value, sd, noise: 'estimated', unit: 'm/s' },
      ...{ stretches: [{ from: 0, to: tS.length }], spanS: 30, systematic: null },
      ...{ channels: [], method: '', courses: [courses] },
    },
    line: { tS, room: value.map((one) => LIMIT_MPS - one), pieces: [{ from: 0, to: tS.length }] },
    roomSd: sd,
    stepS: STEP_S,
  };
}

/** An excess of a height from one time to another. */
function box(heightMps: number, fromS: number, toS: number): (atS: number) => number {
  return (atS) => RATE_MPS + (atS >= fromS && atS <= toS ? heightMps : 0);
}

/**
 * By hand: read 0.05 over the limit. Heights of one kind lie evenly over 0.15 +- 0.02, of another over
 * 0.25 +- 0.02, where 97.5 % are within 0.119 of the one read. Neither is likelier, so the farther counts.
 */
test('the half-width of a margin is that of the kind of course farthest off', () => {
  const room = roomWith(
    coursesOf((kind, share) => {
      const middleMps = kind === 1 ? 0.25 : HEIGHT_MPS;
      return box(middleMps + 0.04 * (share - 0.5), 50, 60);
    }),
  );
  const extreme = persistentMargin(room.line, 2);
  if (extreme === null) throw new Error('no margin');
  expectWithin(extreme.value, -0.05, 1e-9, 'read');
  expectWithin(
    coursedMarginHalf(room, extreme, 2, NORMAL_95),
    0.119,
    0.0005,
    '80 courses of a kind',
  );
  const instant = instantMargin(room.line);
  if (instant === null) throw new Error('no margin');
  expectWithin(coursedMarginHalf(room, instant, 0, NORMAL_95), 0.119, 0.0005, 'flat tops');
});

/**
 * By hand: an excess over 1.5 s is none that persists for 2 s, so that a margin with persistence is what
 * lies beside, 0.1: 0.15 from the one read.
 */
test('courses too short to persist count with the margin that they leave', () => {
  const room = roomWith(
    coursesOf((kind) => (kind === 2 ? box(0.5, 50, 51.5) : box(HEIGHT_MPS, 50, 60))),
  );
  const extreme = persistentMargin(room.line, 2);
  if (extreme === null) throw new Error('no margin');
  expectWithin(coursedMarginHalf(room, extreme, 2, NORMAL_95), 0.15, 0.01, 'noise beside, 3 sd');
});

/**
 * By hand: all begin evenly over 48 s to 52 s and end at 60 s. The middle is 50 s, 95 % lie within 1.9 s of it. Heights of
 * one kind stay under the limit: it says nothing about when the limit was passed.
 */
test('edges of an exceedance are those of the courses that are beyond the limit', () => {
  const room = roomWith(
    coursesOf((kind, share) => box(kind === 0 ? 0.05 : HEIGHT_MPS, 48 + 4 * share, 60)),
  );
  const [beyond] = stretchesBeyond(room.line, 2);
  if (beyond === undefined) throw new Error('none beyond');
  const found = coursedExceedance(room, beyond, 2);
  expectWithin(found?.startS, 50, 0.1, 'a row');
  expectWithin(found?.startHalfS, 1.9, 0.1, 'a row');
  expectWithin(found?.endHalfS, 0, 0.1, 'a row');
  expectWithin(found?.worstHalf, 0, 0.001, 'alike');
});

test('where few courses are beyond the limit, they say nothing about its edges', () => {
  const room = roomWith(
    coursesOf((kind, share) => box(kind === 0 && share < 0.5 ? HEIGHT_MPS : 0.05, 50, 60)),
  );
  const [beyond] = stretchesBeyond(room.line, 2);
  if (beyond === undefined) throw new Error('none beyond');
  expect(coursedExceedance(room, beyond, 2)).toBeNull();
});

/** The signal as read, over or under its limit. */
function evaluated(courses: RateCourses, sign: 1 | -1) {
  const { quantity } = roomWith(courses);
  const turned: RateCourses = {
    ...courses,
    offsMps: courses.offsMps.map((off) => off.map((one) => sign * one)),
  };
  const bound = { kind: 'constant', value: sign * LIMIT_MPS } as const;
  const rule: BandRule = {
    ...{ kind: 'band', id: 'rate', statement: '', when: null, persistsS: 2, unit: 'm/s' },
    quantity: { kind: 'named', name: 'signal' },
    low: sign < 0 ? bound : null,
    high: sign > 0 ? bound : null,
  };
  const value = quantity.value.map((one) => sign * one);
  const signal = { ...quantity, value, courses: [turned] };
  return evaluateRule(rule, contextOf({ quantity: () => signal }));
}

/** By hand, as above: 0.05 over, or 0.05 under where the excess is that of the lowest kind. */
test.each([1, -1] as const)(
  'a rule that one kind of course meets and another breaks is undecided, bound %s',
  (sign) => {
    const courses = coursesOf((kind) => box(kind === 0 ? 0.05 : HEIGHT_MPS, 49, 60));
    const { verdict, margin, exceedances } = evaluated(courses, sign);
    expect(verdict).toBe('undecided');
    expectWithin(margin?.value, -0.05, 1e-9, 'as read');
    expectWithin(margin?.half, 0.1, 0.001, 'the lowest kind');
    expectWithin(exceedances[0]?.startS, 49, 0.2, 'where the courses begin, not the rate as read');
    const told = evaluated(
      coursesOf(() => box(HEIGHT_MPS, 50, 60)),
      sign,
    );
    expect(told.verdict).toBe('broken');
  },
);

/**
 * By hand: 0.1 under the limit. Taken back over 6 s, a jump holds two thirds of its height for 2 s: of 0.14 it is 0.093, of
 * 0.16 it is 0.107. With no persistence all of it counts.
 */
test('a rule is not said to be met where a jump may hide that breaks it', () => {
  const tS = Float64Array.from(rowsTo(100, STEP_S));
  const evaluatedWith = (jumpMps: number) => {
    const { quantity } = roomWith(coursesOf(() => () => RATE_MPS));
    const { courses: _, ...calm } = { ...quantity, tS, value: tS.map(() => RATE_MPS) };
    const hidden = {
      unseen: tS.map(() => 0.01),
      unseenPerS: 0.01,
      unseenJump: tS.map(() => jumpMps),
    };
    const rule: BandRule = {
      ...{ kind: 'band', id: 'rate', statement: '', when: null, persistsS: 2, unit: 'm/s' },
      ...{ quantity: { kind: 'named', name: 'signal' }, low: null },
      high: { kind: 'constant', value: LIMIT_MPS },
    };
    return evaluateRule(rule, contextOf({ quantity: () => ({ ...calm, ...hidden }) }));
  };
  expect(evaluatedWith(0.14).verdict).toBe('met');
  expect(evaluatedWith(0.16).verdict).toBe('undecided');
  expectWithin(evaluatedWith(0.16).margin?.half, (2 / 3) * 0.16, 1e-9, 'held for 2 s');
  expectWithin(evaluatedWith(0.16).instantMargin?.half, 0.16, 1e-9, 'its top');
});
