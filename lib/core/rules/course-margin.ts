/** Margins and exceedances of a rate with an excursion that stands out, over all courses that it may have taken. */
import { vanDerCorput } from '../math/even-spread';
import { quantileSorted } from '../math/quantiles';
import { lowerBound } from '../math/search';
import { normalQuantile } from '../math/statistics';
import {
  courseOffMps,
  coursesEndS,
  EXTREMES_INSIDE,
  halfOverCourses,
  type RateCourses,
} from '../motion/rate-courses';
import {
  type Beyond,
  type Extreme,
  type MarginLine,
  persistentMargin,
  stretchesBeyond,
} from './margins';
import { columnAt, type RoomOverTime } from './room-over-time';

/** A stretch beyond the limit that fewer of the courses have is described as the rate as estimated has it. */
const LEAST_SHARE = 0.25;
/** Beside the courses so much of the line is looked at, s, for windows that reach beyond them. */
const BESIDE_S = 1;

/** The points from one time to another as a line of its own. */
function cutOut(line: MarginLine, fromS: number, toS: number): MarginLine {
  const first = lowerBound(line.tS, fromS);
  const end = Math.min(line.tS.length, lowerBound(line.tS, toS) + 1);
  const pieces = line.pieces.flatMap((piece) => {
    const [from, to] = [Math.max(piece.from, first), Math.min(piece.to, end)];
    return from < to ? [{ from: from - first, to: to - first }] : [];
  });
  return { tS: line.tS.subarray(first, end), room: line.room.subarray(first, end), pieces };
}

/** The line without what lies in the courses. */
function besides(line: MarginLine, all: readonly RateCourses[]): MarginLine {
  let { pieces } = line;
  for (const courses of all) {
    const first = lowerBound(line.tS, courses.fromS);
    const end = lowerBound(line.tS, coursesEndS(courses));
    pieces = pieces.flatMap(({ from, to }) =>
      [
        { from, to: Math.min(to, first) },
        { from: Math.max(from, end), to },
      ].filter((piece) => piece.from < piece.to),
    );
  }
  return { ...line, pieces };
}

/** The line of each course in turn; the same arrays are filled anew for each. */
function* linesOf(
  { quantity, side }: RoomOverTime,
  courses: RateCourses,
  line: MarginLine,
): Generator<MarginLine> {
  const sides = line.tS.map((atS) => side?.[lowerBound(quantity.tS, atS)] ?? 1);
  const room = line.room.slice();
  for (let course = 0; course < courses.offsMps.length; course++) {
    for (let i = 0; i < room.length; i++) {
      const off = courseOffMps(courses, course, line.tS[i] ?? Number.NaN);
      room[i] = (line.room[i] ?? Number.NaN) - (sides[i] ?? 1) * off;
    }
    yield { ...line, room };
  }
}

function middleOf(values: readonly number[]): number {
  const known = values.filter((one) => !Number.isNaN(one)).sort((a, b) => a - b);
  return quantileSorted(known, 0.5, 7);
}

/**
 * Half-width of a margin over all courses: the margin of each, no more than what the rest of the line leaves.
 *
 * @param wide half-width of the smallest of many alike values, in deviations of one
 * @returns `null` without courses, or where none of them bears on the line
 */
export function coursedMarginHalf(
  room: RoomOverTime,
  extreme: Extreme,
  persistsS: number,
  wide: number,
): number | null {
  const { quantity, line, roomSd } = room;
  const all = quantity.courses ?? [];
  const margins: number[] = [];
  for (const courses of all) {
    const reachS = persistsS + BESIDE_S;
    const near = cutOut(line, courses.fromS - reachS, coursesEndS(courses) + reachS);
    let course = 0;
    for (const one of linesOf(room, courses, near)) {
      const value = persistentMargin(one, persistsS)?.value ?? Number.POSITIVE_INFINITY;
      margins[course] = Math.min(margins[course] ?? Number.POSITIVE_INFINITY, value);
      course++;
    }
  }
  const rest = persistentMargin(besides(line, all), persistsS);
  const restSd = rest === null ? 0 : columnAt(quantity.tS, roomSd, rest.atS);
  const held = margins.map((margin, course) =>
    rest === null
      ? margin
      : Math.min(margin, rest.value + restSd * normalQuantile(vanDerCorput(course, 5))),
  );
  if (!held.some((margin) => margin < Number.POSITIVE_INFINITY)) return null;
  const ofRest = rest === null ? 0 : wide * restSd - (rest.value - extreme.value);
  return Math.max(halfOverCourses(extreme.value, held, EXTREMES_INSIDE), ofRest);
}

/** Edges of a stretch beyond the limit, each in the middle of all courses, with half-widths of 95 %, and that of its worst room. */
export type CoursedExceedance = Readonly<
  Record<'startS' | 'startHalfS' | 'endS' | 'endHalfS' | 'worstHalf', number>
>;

/**
 * A stretch beyond the limit as the courses have it that are beyond it at all: the longest of each that meets it.
 *
 * @returns `null` where it has no courses, or few of them are beyond
 */
export function coursedExceedance(
  room: RoomOverTime,
  beyond: Beyond,
  persistsS: number,
): CoursedExceedance | null {
  const courses = room.quantity.courses?.find(
    (one) => one.fromS < beyond.endS && coursesEndS(one) > beyond.startS,
  );
  if (courses === undefined) return null;
  const near = cutOut(
    room.line,
    Math.min(beyond.startS, courses.fromS) - BESIDE_S,
    Math.max(beyond.endS, coursesEndS(courses)) + BESIDE_S,
  );
  const found: (Beyond | null)[] = [];
  for (const one of linesOf(room, courses, near)) {
    const met = stretchesBeyond(one, persistsS).filter(
      ({ startS, endS }) => startS < coursesEndS(courses) && endS > courses.fromS,
    );
    const longest = met.reduce<Beyond | null>(
      (a, b) => (a !== null && a.endS - a.startS >= b.endS - b.startS ? a : b),
      null,
    );
    found.push(longest);
  }
  const beyonds = found.filter((one) => one !== null).length;
  if (beyonds < LEAST_SHARE * found.length) return null;
  const about = (of: (one: Beyond) => number): readonly [number, number] => {
    const values = found.map((one) => (one === null ? Number.NaN : of(one)));
    const middle = middleOf(values);
    return [middle, halfOverCourses(middle, values)];
  };
  const [startS, startHalfS] = about((one) => one.startS);
  const [endS, endHalfS] = about((one) => one.endS);
  const worsts = found.map((one) => one?.worstRoom ?? Number.NaN);
  return {
    ...{ startS, startHalfS, endS, endHalfS },
    worstHalf: halfOverCourses(beyond.worstRoom, worsts, EXTREMES_INSIDE),
  };
}
