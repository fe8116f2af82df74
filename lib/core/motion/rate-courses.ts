/** Courses that a rate may have taken where an excursion stands out. */
import { vanDerCorput } from '../math/even-spread';
import { quantileSorted } from '../math/quantiles';
import { normalQuantile } from '../math/statistics';
import {
  courseKindOf,
  type ExcursionPosterior,
  KIND_SHARES,
  type Member,
} from './excursion-posterior';
import { type ExcursionShape, excursionRateMps, rampShareFromMiddle } from './excursion-shape';
import { squareShareSd } from './excursion-square';

/** From `fromS` on in steps of `stepS`: by how much each course lies over the rate as estimated, m/s. */
export type RateCourses = Readonly<{
  fromS: number;
  stepS: number;
  offsMps: readonly Float64Array[];
  /** Relative standard deviation of the excursion's square over time. */
  squareShare: number;
}>;

/** So many of each kind speak for all of it. */
const OF_A_KIND = 80;
const KINDS = ['falling', 'box', 'sloped'] as const;
/** A kind that is less likely than this, each as likely as another before looking, is ruled out. */
const RULED_OUT = 0.05;
const INSIDE = 0.95;
/**
 * Share of the courses that an interval of their extremes holds. What only just stands out was more often raised by noise than
 * lowered by it, which the courses do not know. Our own choice, by the calibration study.
 */
export const EXTREMES_INSIDE = 0.975;

export function coursesEndS({ fromS, stepS, offsMps }: RateCourses): number {
  return fromS + stepS * ((offsMps[0]?.length ?? 1) - 1);
}

/** By how much a course lies over the rate as estimated at an instant, m/s; 0 outside. */
export function courseOffMps(courses: RateCourses, course: number, atS: number): number {
  const off = courses.offsMps[course];
  const place = (atS - courses.fromS) / courses.stepS;
  if (off === undefined || !(place >= 0) || place > off.length - 1) return 0;
  const k = Math.min(off.length - 2, Math.floor(place));
  const low = off[k] ?? 0;
  return low + (place - k) * ((off[k + 1] ?? low) - low);
}

/** Members of each kind, its place taken by those of the likeliest where the data rule it out; lightest first. */
function membersByKind(members: readonly Member[]): readonly (readonly Member[])[] {
  const groups = KINDS.map((kind) => members.filter((one) => courseKindOf(one) === kind));
  const likely = groups.map((group, k) => {
    const weight = group.reduce((sum, one) => sum + one.weight, 0);
    return weight / KIND_SHARES[KINDS[k] ?? 'sloped'];
  });
  const sum = likely.reduce((a, b) => a + b, 0);
  const likeliest = likely.indexOf(Math.max(...likely));
  return groups.map((group, k) =>
    (likely[k] ?? 0) < RULED_OUT * sum ? (groups[likeliest] ?? group) : group,
  );
}

/** Every n-th part of the weights, in the order of the heights, each with a height by its own error. */
function drawn(members: readonly Member[]): Readonly<{ member: Member; heightMps: number }>[] {
  const sorted = [...members].sort((a, b) => a.heightMps - b.heightMps);
  const sum = sorted.reduce((a, one) => a + one.weight, 0);
  let [next, below] = [0, 0];
  return Array.from({ length: OF_A_KIND }, (_, course) => {
    const share = ((course + 0.5) / OF_A_KIND) * sum;
    while (next < sorted.length - 1 && below + (sorted[next]?.weight ?? 0) < share) {
      below += sorted[next]?.weight ?? 0;
      next++;
    }
    const member = sorted[next] as Member;
    const own = Math.sqrt(member.variance) * normalQuantile(vanDerCorput(course, 2));
    return { member, heightMps: member.heightMps + own };
  });
}

/**
 * Draws shapes by their weights, as many of each kind that the data do not rule out.
 *
 * @param posterior weighed shapes about `middleS`
 * @param shape the one that stands in the estimate for all
 * @param over times, s
 *
 * Source: systematic resampling; heights by the Halton sequence.
 */
export function shapeCourses(
  posterior: ExcursionPosterior,
  middleS: number,
  shape: ExcursionShape,
  over: Readonly<{ fromS: number; stepS: number; count: number }>,
): RateCourses {
  const { fromS, stepS, count } = over;
  const estimate = Float64Array.from({ length: count }, (_, k) =>
    excursionRateMps(shape, fromS + k * stepS),
  );
  const offsMps = membersByKind(posterior.members).flatMap((group) =>
    drawn(group).map(({ member: { up, down }, heightMps }) =>
      estimate.map((estimateMps, k) => {
        const atS = fromS + k * stepS - middleS;
        const done =
          rampShareFromMiddle(up.lastsS, atS - up.middleS) -
          rampShareFromMiddle(down.lastsS, atS - down.middleS);
        return heightMps * done - estimateMps;
      }),
    ),
  );
  return { fromS, stepS, offsMps, squareShare: squareShareSd(posterior) };
}

/**
 * Half-width about a value that holds a share, 95 %, of what the courses of each kind give: no kind counts more than another that
 * the data leave, for one vehicle makes one kind.
 *
 * @param ofCourses what each course gives, in their order; NaN where one gives nothing
 */
export function halfOverCourses(
  value: number,
  ofCourses: readonly number[],
  inside = INSIDE,
): number {
  return KINDS.reduce((most, _, k) => {
    const sizes = ofCourses
      .slice(k * OF_A_KIND, (k + 1) * OF_A_KIND)
      .map((one) => Math.abs(one - value))
      .filter((size) => !Number.isNaN(size))
      .sort((a, b) => a - b);
    return sizes.length === 0 ? most : Math.max(most, quantileSorted(sizes, inside, 7));
  }, 0);
}

/** The courses with an error that all of one have alike, of `sdMps`, as the rate has beside the excursion. */
export function withCommonError(courses: RateCourses, sdMps: number): RateCourses {
  const offsMps = courses.offsMps.map((off, course) => {
    const common = sdMps * normalQuantile(vanDerCorput(course, 3));
    return off.map((one) => one + common);
  });
  return { ...courses, offsMps };
}

/** The courses of a quantity that is the rate of the position times a number. */
export function timesCourses(courses: RateCourses, factor: number): RateCourses {
  return { ...courses, offsMps: courses.offsMps.map((off) => off.map((one) => factor * one)) };
}
