/** Closing rate over range, with the plan's profile, its tolerance and the limits of the rules. */
import {
  type PlannedSpan,
  plannedSpans,
  type RateRule,
  rangesBetween,
  rateEnds,
  rateLimitAt,
  rateRules,
} from '../../core/approach/rate-lines';
import { profileAt } from '../../core/math/search';
import type { Reconstruction } from '../../core/reconstruction/reconstruction';
import { nameFromId } from '../../core/session/name-from-id';
import { formatNumber } from '../../core/units/number-text';
import { niceTicks } from '../overview/nice-ticks';
import { type ApproachTrack, middleAt } from './approach-track';
import { CHARACTER_PX, type Picture, type PictureText, pathOf, placeIn } from './picture';

const WIDTH = 660;
const HEIGHT = 460;
const PLOT = { left: 62, right: 646, top: 10, bottom: 418 } as const;

type Scale = Readonly<{ x: (rangeM: number) => number; y: (mps: number) => number }>;

function flownPath(track: ApproachTrack, scale: Scale): string {
  const rate = track.columns.get('closing_rate');
  const points: (readonly [number, number] | null)[] = [];
  let before = Number.NaN;
  track.tS.forEach((_, part) => {
    const x = scale.x(middleAt(track, 'range', part));
    const ends = [rate?.low[part] ?? Number.NaN, rate?.high[part] ?? Number.NaN] as const;
    if (!Number.isFinite(x) || !Number.isFinite(ends[0])) {
      points.push(null);
      return;
    }
    // Begins with the nearer end, so that a part is not crossed twice.
    const rising = !(Math.abs(ends[1] - before) < Math.abs(ends[0] - before));
    const [first, second] = rising ? ends : ([ends[1], ends[0]] as const);
    points.push([x, scale.y(first)], [x, scale.y(second)]);
    before = second;
  });
  return pathOf(points);
}

/** @returns null where no range and closing rate were estimated */
export function ratePicture(reconstruction: Reconstruction, track: ApproachTrack): Picture | null {
  const rate = track.columns.get('closing_rate');
  const ranges = Array.from(track.tS, (_, part) => middleAt(track, 'range', part));
  const farM = Math.max(...ranges.filter(Number.isFinite));
  if (rate === undefined || !(farM > 0)) return null;
  const spans = plannedSpans(reconstruction.plan, farM);
  const rules = rateRules(reconstruction, farM);
  const ends = rateEnds([...rate.low, ...rate.high], spans, rules);
  const scale: Scale = {
    x: (rangeM) => PLOT.right - (rangeM / (farM * 1.02)) * (PLOT.right - PLOT.left),
    y: (mps) =>
      PLOT.bottom - ((mps - ends.low) / (ends.high - ends.low)) * (PLOT.bottom - PLOT.top),
  };
  const places = ranges.map((rangeM, part) =>
    placeIn(PLOT, scale.x(rangeM), scale.y(middleAt(track, 'closing_rate', part))),
  );
  const zero = scale.y(0).toFixed(1);
  return {
    id: 'rate',
    title: 'Closing rate over range',
    label: `Closing rate in m/s over range from the port. ${spans.length === 0 ? 'No plan.' : `Planned profiles: ${spans.map(({ step }) => nameFromId(step.id)).join(', ')}.`} ${rules.length === 0 ? 'No rule limits it.' : `Limits: ${rules.map(({ rule }) => nameFromId(rule)).join(', ')}.`}`,
    caption: captionOf(spans, rules),
    width: WIDTH,
    height: HEIGHT,
    plot: PLOT,
    xTicks: niceTicks(0, farM, 6).map((m) => ({ at: scale.x(m), text: formatNumber(m, 0) })),
    yTicks: niceTicks(ends.low, ends.high, 7).map((mps) => ({
      at: scale.y(mps),
      text: formatNumber(mps, ends.high - ends.low < 0.2 ? 3 : 2),
    })),
    xName: 'range, m',
    yName: 'm/s',
    areas: spans.map((span) => bandPath(span, scale)),
    lines: [
      { path: `M${PLOT.left} ${zero}H${PLOT.right}`, tone: 'axis' },
      ...spans.map(({ step, fromM, toM }) => ({
        path: pathOf(
          rangesBetween({ fromM, toM }).map((m) => [
            scale.x(m),
            scale.y(profileAt(step.closingRateMps, m)),
          ]),
        ),
        tone: 'plan' as const,
      })),
      ...rules.map((each) => ({
        path: pathOf(
          rangesBetween(each).map((m) => [scale.x(m), scale.y(rateLimitAt(each.limit, m))]),
        ),
        tone: 'limit' as const,
      })),
      { path: flownPath(track, scale), tone: 'flown' },
    ],
    texts: labelsOf(spans, rules, scale),
    marks: [],
    places,
  };
}

/** What is drawn, and what of it has to be known. */
function captionOf(spans: readonly PlannedSpan[], rules: readonly RateRule[]): string {
  const band =
    spans.length === 0
      ? 'No plan gives a profile'
      : 'The shaded band is the plan’s profile with its tolerance, ramps not taken off';
  const bounds =
    rules.length === 0
      ? 'no rule bounds the closing rate'
      : 'an upper or lower bound far outside what was flown is not drawn';
  return `Port at the right; closing is above zero, backing off below it. ${band}; ${bounds}.`;
}

function bandPath({ step, fromM, toM }: PlannedSpan, scale: Scale): string {
  const along = rangesBetween({ fromM, toM });
  const edge = (sign: 1 | -1) =>
    along.map((m): readonly [number, number] => [
      scale.x(m),
      scale.y(profileAt(step.closingRateMps, m) + sign * step.toleranceMps),
    ]);
  return `${pathOf([...edge(1), ...edge(-1).reverse()])}Z`;
}

/** From a line to the foot of its name, px. */
const ABOVE = -6;
const BELOW = 16;

const widthOf = (text: string): number => text.length * CHARACTER_PX;

/** Names at the outer ends of limits and profiles, where they don't stand on another. */
function labelsOf(
  spans: readonly PlannedSpan[],
  rules: readonly RateRule[],
  scale: Scale,
): readonly PictureText[] {
  const placed: PictureText[] = [];
  const add = (
    text: string,
    { tone, isAbove }: Readonly<{ tone: PictureText['tone']; isAbove: boolean }>,
    line: (m: number) => number,
    span: Readonly<{ fromM: number; toM: number }>,
  ): void => {
    const width = widthOf(text);
    for (const away of isAbove ? [ABOVE, BELOW] : [BELOW, ABOVE])
      for (const share of [0.02, 0.2, 0.4, 0.6, 0.8]) {
        const m = span.fromM + (span.toM - span.fromM) * share;
        const x = Math.min(scale.x(m) + 4, PLOT.right - width);
        const y = scale.y(line(m)) + away;
        const isClear =
          y > PLOT.top + 10 &&
          y < PLOT.bottom - 4 &&
          placed.every(
            (each) =>
              Math.abs(each.y - y) > 15 || each.x > x + width || x > each.x + widthOf(each.text),
          );
        if (!isClear) continue;
        placed.push({ x, y, text, tone, anchor: 'start' });
        return;
      }
  };
  for (const each of rules)
    add(
      `${each.side === 'upper' ? '' : 'lower '}limit ${nameFromId(each.rule).toLowerCase()}`,
      { tone: 'limit', isAbove: each.side === 'upper' },
      (m) => rateLimitAt(each.limit, m),
      each,
    );
  for (const each of spans)
    add(
      `plan ${nameFromId(each.step.id).toLowerCase()}`,
      { tone: 'plan', isAbove: false },
      (m) => profileAt(each.step.closingRateMps, m) - each.step.toleranceMps,
      each,
    );
  return placed;
}
