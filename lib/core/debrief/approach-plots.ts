/** The pictures of an approach over distance from the port: from the side, and the closing rate. */
import {
  plannedSpans,
  rangesBetween,
  rateEnds,
  rateLimitAt,
  rateRules,
} from '../approach/rate-lines';
import { corridorRadiusM, corridorsOf } from '../approach/stations';
import { lowerBound, profileAt } from '../math/search';
import type { DerivedColumns, Reconstruction } from '../reconstruction/reconstruction';
import { nameFromId } from '../session/name-from-id';
import { decimateMinMax, joinedStepS } from './decimate';
import { COLOUR_DASH, type Plot, type PlotBand, type PlotPoint, type PlotSeries } from './plot';
import { valueAxis } from './plot-axis';

/** Which picture: seen across the docking axis, or the closing rate over range. */
export const APPROACH_PICTURES = ['side', 'above', 'rate'] as const;
export type ApproachPicture = (typeof APPROACH_PICTURES)[number];

type Columns = Readonly<{ along: string; value: string; alongLabel: string; valueLabel: string }>;

const COLUMNS: Readonly<Record<ApproachPicture, Columns>> = {
  side: {
    along: 'axial_distance',
    value: 'offset_z',
    alongLabel: 'Distance from the port along the docking axis',
    valueLabel: 'Offset z',
  },
  above: {
    along: 'axial_distance',
    value: 'offset_y',
    alongLabel: 'Distance from the port along the docking axis',
    valueLabel: 'Offset y',
  },
  rate: {
    along: 'range',
    value: 'closing_rate',
    alongLabel: 'Range from the port',
    valueLabel: 'Closing rate',
  },
};

/** Equal parts of time of a picture; each keeps its smallest and its largest value. */
export const APPROACH_PARTS = 400;
/** A corridor is drawn through this many points a side. */
const CORRIDOR_POINTS = 40;

function valuesOf({ columns }: DerivedColumns, name: string): Float64Array | undefined {
  return columns.find((column) => column.name === name)?.values;
}

/** Names of the derived columns that a picture is drawn from. */
export function approachColumns(picture: ApproachPicture): readonly string[] {
  const { along, value } = COLUMNS[picture];
  return [along, value];
}

/** True where the columns of a picture are there. */
export function hasApproachPicture(derived: DerivedColumns, picture: ApproachPicture): boolean {
  return approachColumns(picture).every((name) => valuesOf(derived, name) !== undefined);
}

type Points = Pick<PlotSeries, 'x' | 'y'>;

const rounded = (value: number): number => Number(value.toPrecision(6)) + 0;

/** What was flown, in the order of time: the value over the distance where it was had. */
function flownPoints(derived: DerivedColumns, picture: ApproachPicture): Points {
  const { tS } = derived;
  const along = valuesOf(derived, COLUMNS[picture].along) ?? new Float64Array(0);
  const values = valuesOf(derived, COLUMNS[picture].value) ?? new Float64Array(0);
  const [fromS = 0, toS = 0] = [tS[0], tS[tS.length - 1]];
  const options = { fromS, toS, buckets: APPROACH_PARTS, gapS: joinedStepS(tS) };
  const points = decimateMinMax(tS, values, options);
  const atM = points.x.map((timeS) => {
    // Times are kept to the millisecond: the row is the nearest.
    const row = Math.min(lowerBound(tS, timeS - 0.0005), along.length - 1);
    return along[Math.max(0, row)] ?? Number.NaN;
  });
  return {
    x: atM.map((m) => (Number.isFinite(m) ? rounded(m) : 0)),
    y: points.y.map((value, index) => (Number.isFinite(atM[index]) ? value : null)),
  };
}

/** Several lines as one trace, nothing drawn from one to the next. */
function joined(lines: readonly (readonly (readonly [x: number, y: number])[])[]): Points {
  const all = lines.flatMap((line): (readonly [number, number | null])[] => {
    const end = line.at(-1);
    return end === undefined ? [] : [...line, [end[0], null]];
  });
  const points = all.slice(0, -1);
  return {
    x: points.map(([x]) => rounded(x)),
    y: points.map(([, y]) => (y === null || !Number.isFinite(y) ? null : rounded(y))),
  };
}

/** The plan's holds as bands of distance. */
function holdBands({ plan }: Reconstruction, farM: number): readonly PlotBand[] {
  return (plan?.steps ?? []).flatMap((step): PlotBand[] => {
    if (step.kind !== 'hold' || step.holdM - step.toleranceM > farM) return [];
    const [from, to] = [step.holdM - step.toleranceM, step.holdM + step.toleranceM];
    return [{ along: 'x', from, to, tone: 'hold', label: nameFromId(step.id) }];
  });
}

/** The corridor on both sides of the axis, as far as a rule on the distance from it says. */
function corridorSeries({ ruleSet }: Reconstruction, farM: number): readonly PlotSeries[] {
  return corridorsOf(ruleSet).flatMap(({ rule, limit, axialM, rangeM }): PlotSeries[] => {
    const [nearM, outM] = axialM ?? rangeM ?? [0, farM];
    const endM = Math.min(outM, farM);
    if (!(endM > nearM) || corridorRadiusM(limit, nearM) === null) return [];
    const side = (sign: 1 | -1) =>
      Array.from({ length: CORRIDOR_POINTS + 1 }, (_, i) => {
        const atM = endM + ((nearM - endM) * i) / CORRIDOR_POINTS;
        return [atM, sign * (corridorRadiusM(limit, atM) ?? Number.NaN)] as const;
      });
    const points = joined([side(1), side(-1)]);
    const label = `Limit: ${nameFromId(rule)}`;
    return [{ id: `limit.${rule}`, label, colour: 2, dash: COLOUR_DASH[2], ...points }];
  });
}

function leastClearance({ approach }: Reconstruction, picture: ApproachPicture): PlotPoint[] {
  const least = approach?.stations.find(({ kind }) => kind === 'least-clearance');
  const x = least?.axialM.value ?? null;
  const y = (picture === 'side' ? least?.zM.value : least?.yM.value) ?? null;
  return x === null || y === null ? [] : [{ x, y, tone: 'event', label: 'least clearance' }];
}

function rateSeries(reconstruction: Reconstruction, farM: number, flown: readonly number[]) {
  const spans = plannedSpans(reconstruction.plan, farM);
  const rules = rateRules(reconstruction, farM);
  const profile = (offset: -1 | 0 | 1) =>
    spans.map(({ step, fromM, toM }) =>
      rangesBetween({ fromM, toM }).map(
        (m) => [m, profileAt(step.closingRateMps, m) + offset * step.toleranceMps] as const,
      ),
    );
  const { low, high } = rateEnds(flown, spans, rules);
  const planned: readonly PlotSeries[] =
    spans.length === 0
      ? []
      : [
          {
            ...{ id: 'planned', label: 'Planned closing rate', colour: 3, dash: COLOUR_DASH[3] },
            ...joined(profile(0)),
          },
          {
            ...{ id: 'planned.tolerance', label: 'Planned, tolerance', colour: 3, dash: 'dot' },
            ...joined([...profile(1), ...profile(-1)]),
          },
        ];
  const limits = rules
    .map((each, index): PlotSeries => {
      const label = `${each.side === 'upper' ? 'Limit' : 'Lower limit'}: ${nameFromId(each.rule)}`;
      const line = rangesBetween(each).map((m) => [m, rateLimitAt(each.limit, m)] as const);
      const id = `limit.${each.rule}.${index}`;
      return { id, label, colour: 2, dash: COLOUR_DASH[2], ...joined([line]) };
    })
    // A bound that is nowhere near is not drawn, and has no name beside the picture either.
    .filter(({ y }) => y.some((mps) => mps !== null && mps >= low && mps <= high));
  return { low, high, series: [...planned, ...limits] };
}

/**
 * One picture of the approach, the port at the right.
 *
 * @param reconstruction for plan, limits and the least clearance
 * @param derived the columns; those of the picture must be there
 * @returns null where no distance from the port is known
 */
export function approachPlot(
  reconstruction: Reconstruction,
  derived: DerivedColumns,
  request: Readonly<{ id: string; picture: ApproachPicture }>,
): Plot | null {
  const { id, picture } = request;
  const { alongLabel, valueLabel } = COLUMNS[picture];
  const points = flownPoints(derived, picture);
  const shown = points.x.filter((_, index) => points.y[index] !== null);
  const flown = points.y.filter((value) => value !== null);
  const farM = Math.max(0, ...shown);
  if (!(farM > 0)) return null;
  const along = valueAxis([0, farM], { label: alongLabel, unit: 'm' }, 8);
  const largestM = Math.max(0.5, ...flown.map(Math.abs)) * 1.25;
  const held =
    picture === 'rate'
      ? rateSeries(reconstruction, farM, flown)
      : { low: -largestM, high: largestM, series: corridorSeries(reconstruction, farM) };
  const own = { id: 'flown', label: valueLabel, colour: 1, dash: 'solid' } as const;
  return {
    id,
    x: { ...along, from: along.to, to: along.from },
    y: valueAxis([held.low, held.high], {
      label: valueLabel,
      unit: picture === 'rate' ? 'm/s' : 'm',
    }),
    series: [{ ...own, ...points }, ...held.series],
    bands: holdBands(reconstruction, farM),
    marks: [],
    points: picture === 'rate' ? [] : leastClearance(reconstruction, picture),
  };
}
