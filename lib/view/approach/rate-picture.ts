/** Closing rate over range, with the plan's profile, its tolerance and the limits of the rules. */
import { plannedStartM } from '../../core/approach/planned-way';
import { profileAt } from '../../core/math/search';
import type { Reconstruction } from '../../core/reconstruction/reconstruction';
import { generalRule } from '../../core/session/general-rule';
import { nameFromId } from '../../core/session/name-from-id';
import type { MoveStep, Plan } from '../../core/session/plan';
import type { Limit } from '../../core/session/rule';
import { formatNumber } from '../../core/units/number-text';
import { niceTicks } from '../overview/nice-ticks';
import { type ApproachTrack, middleAt } from './approach-track';
import { CHARACTER_PX, type Picture, type PictureText, pathOf, placeIn } from './picture';

const WIDTH = 660;
const HEIGHT = 460;
const PLOT = { left: 62, right: 646, top: 10, bottom: 418 } as const;
/** A profile or limit is drawn through this many points of its stretch of range. */
const POINTS = 120;

type Scale = Readonly<{ x: (rangeM: number) => number; y: (mps: number) => number }>;

type Span = Readonly<{ step: MoveStep; fromM: number; toM: number }>;

function plannedSpans(plan: Plan | null, farM: number): readonly Span[] {
  return (plan?.steps ?? []).flatMap((step, index): Span[] => {
    if (step.kind !== 'move' || plan === null) return [];
    const fromM = Math.min(plannedStartM(plan, index), farM);
    return fromM > step.toM ? [{ step, fromM, toM: step.toM }] : [];
  });
}

function between(fromM: number, toM: number): readonly number[] {
  return Array.from({ length: POINTS + 1 }, (_, i) => fromM + ((toM - fromM) * i) / POINTS);
}

type RateRule = Readonly<{ rule: string; limit: Limit; fromM: number; toM: number }>;

const RATES: readonly string[] = ['closing_rate', 'axial_closing_rate'];

/** Bounds of the closing rate, over the ranges where they hold; those of the axial rate are ones too. */
function rateRules({ ruleSet, plan }: Reconstruction, farM: number): readonly RateRule[] {
  return ruleSet.flatMap((each): RateRule[] => {
    const general = generalRule(each);
    if (general.kind !== 'band' || general.quantity.kind !== 'named') return [];
    if (!RATES.includes(general.quantity.name)) return [];
    const { when, low, high } = general;
    const span = when?.rangeM ?? when?.axialM ?? stepSpan(plan, when?.step ?? null);
    const [nearM, outM] = span ?? [0, farM];
    if (nearM >= farM) return [];
    return [high, low].flatMap((limit) =>
      limit === null || limit.kind === 'cone'
        ? []
        : [{ rule: each.id, limit, fromM: Math.min(outM, farM), toM: nearM }],
    );
  });
}

function stepSpan(plan: Plan | null, id: string | null): readonly [number, number] | null {
  const index = plan?.steps.findIndex((step) => step.id === id) ?? -1;
  const step = plan?.steps[index];
  if (plan === null || step === undefined) return null;
  if (step.kind === 'hold') return [step.holdM - step.toleranceM, step.holdM + step.toleranceM];
  const startM = plannedStartM(plan, index);
  return [Math.min(step.toM, startM), Math.max(step.toM, startM)];
}

function limitAt(limit: Limit, rangeM: number): number {
  if (limit.kind === 'constant') return limit.value;
  return limit.kind === 'by-range' ? profileAt(limit.points, rangeM) : Number.NaN;
}

/** Ends of the rate axis: all that was flown and planned, limits up to half as much again. */
function rateEnds(flown: readonly number[], planned: readonly number[], limits: readonly number[]) {
  const base = [...flown, ...planned, 0].filter(Number.isFinite);
  const low = Math.min(...base);
  const high = Math.max(...base);
  const room = (high - low) * 0.5;
  const near = limits.filter((mps) => mps <= high + room && mps >= low - room);
  const pad = (Math.max(high, ...near) - Math.min(low, ...near)) * 0.06;
  return { low: Math.min(low, ...near) - (low < 0 ? pad : 0), high: Math.max(high, ...near) + pad };
}

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
  const ends = rateEnds(
    [...rate.low, ...rate.high],
    spans.flatMap(({ step, fromM, toM }) =>
      between(fromM, toM).flatMap((m) => {
        const mps = profileAt(step.closingRateMps, m);
        return [mps - step.toleranceMps, mps + step.toleranceMps];
      }),
    ),
    rules.flatMap(({ limit, fromM, toM }) => between(fromM, toM).map((m) => limitAt(limit, m))),
  );
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
    caption:
      'Port at the right; closing is above nothing, backing off below it. The shaded band is the plan’s profile with its tolerance, ramps not taken off; an upper or lower bound far outside what was flown is not drawn.',
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
          between(fromM, toM).map((m) => [scale.x(m), scale.y(profileAt(step.closingRateMps, m))]),
        ),
        tone: 'plan' as const,
      })),
      ...rules.map(({ limit, fromM, toM }) => ({
        path: pathOf(between(fromM, toM).map((m) => [scale.x(m), scale.y(limitAt(limit, m))])),
        tone: 'limit' as const,
      })),
      { path: flownPath(track, scale), tone: 'flown' },
    ],
    texts: labelsOf(spans, rules, scale),
    marks: [],
    places,
  };
}

function bandPath({ step, fromM, toM }: Span, scale: Scale): string {
  const along = between(fromM, toM);
  const edge = (sign: 1 | -1) =>
    along.map((m): readonly [number, number] => [
      scale.x(m),
      scale.y(profileAt(step.closingRateMps, m) + sign * step.toleranceMps),
    ]);
  return `${pathOf([...edge(1), ...edge(-1).reverse()])}Z`;
}

/** Names at the outer ends of limits and profiles, where they don't stand on another. */
function labelsOf(
  spans: readonly Span[],
  rules: readonly RateRule[],
  scale: Scale,
): readonly PictureText[] {
  const placed: PictureText[] = [];
  const add = (
    text: string,
    tone: PictureText['tone'],
    line: (m: number) => number,
    span: Readonly<{ fromM: number; toM: number }>,
  ): void => {
    const width = text.length * CHARACTER_PX;
    for (const share of [0.02, 0.2, 0.4, 0.6]) {
      const m = span.fromM + (span.toM - span.fromM) * share;
      const x = Math.min(scale.x(m) + 4, PLOT.right - width);
      const y = scale.y(line(m)) + (tone === 'limit' ? -6 : 16);
      const isClear =
        y > PLOT.top + 10 &&
        y < PLOT.bottom - 4 &&
        placed.every((each) => Math.abs(each.y - y) > 15 || Math.abs(each.x - x) > width);
      if (!isClear) continue;
      placed.push({ x, y, text, tone, anchor: 'start' });
      return;
    }
  };
  for (const each of rules)
    add(
      `limit ${nameFromId(each.rule).toLowerCase()}`,
      'limit',
      (m) => limitAt(each.limit, m),
      each,
    );
  for (const each of spans)
    add(
      `plan ${nameFromId(each.step.id).toLowerCase()}`,
      'plan',
      (m) => profileAt(each.step.closingRateMps, m) - each.step.toleranceMps,
      each,
    );
  return placed;
}
