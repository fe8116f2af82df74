/** What a search for stretches beyond a value found, for the sheet beside the strips. */
import type { Figure } from '../core/figure';
import type { SeekCondition, SoughtStretch } from '../core/series/seek-stretches';
import { formatNumber } from '../core/units/number-text';
import { rateUnit, readerUnit } from '../core/units/reader-unit';
import { type FigureView, figureView, timelineHref } from './figure-view';
import { spokenDuration } from './format-time';
import { quantityLabel } from './strip-words';

/** A little picture: path data in a box of 120 by 34, the limit's height where it lies in it. */
export type SmallTrace = Readonly<{
  path: string;
  limitY: number | null;
  /** Where the stretch itself lies. */
  fromX: number;
  toX: number;
}>;

export type SoughtRow = Readonly<{
  fromS: number;
  toS: number;
  lasts: string;
  worst: FigureView;
  trace: SmallTrace;
  href: string;
}>;

export type SoughtView = Readonly<{
  /** `Closing rate above 0.3 m/s for 2 s`. */
  asked: string;
  sessions: readonly Readonly<{
    sessionId: string;
    title: string;
    count: number;
    rows: readonly SoughtRow[];
  }>[];
}>;

type Found = Readonly<{
  sessionId: string;
  title: string;
  key: string;
  unit: string;
  sources: readonly Readonly<{ file: string; sha256: string }>[];
  count: number;
  stretches: readonly (SoughtStretch & Readonly<{ trace: Trace }>)[];
}>;

type Trace = Readonly<{
  tS: readonly number[];
  low: readonly number[];
  high: readonly number[];
}>;

export const SMALL_TRACE = { widthPx: 120, heightPx: 34 } as const;
const PAD_PX = 3;

/** The SI unit that a condition on a channel is in. */
function conditionUnit(of: SeekCondition['of'], unit: string): string {
  return of === 'rate' ? rateUnit(unit) : unit;
}

/** A limit as somebody types it, in the unit of the store. */
export function limitInSi(
  of: SeekCondition['of'],
  limit: Readonly<{ typed: number; unit: string }>,
): number {
  return limit.typed / readerUnit(conditionUnit(of, limit.unit)).fromSi;
}

export function soughtView(
  found: readonly Found[],
  condition: SeekCondition,
  key: string,
): SoughtView {
  const unit = conditionUnit(condition.of, found[0]?.unit ?? '');
  const { unit: word, fromSi, decimals } = readerUnit(unit);
  const what = condition.of === 'rate' ? `Rate of ${quantityLabel(key)}` : quantityLabel(key);
  const limit = formatNumber(condition.limit * fromSi, decimals);
  const lasting = condition.leastS > 0 ? ` for ${spokenDuration(condition.leastS, 1)}` : '';
  return {
    asked: `${what} ${condition.sense} ${limit} ${word}`.trim() + lasting,
    sessions: found.map(({ sessionId, title, count, stretches, ...behind }) => ({
      sessionId,
      title,
      count,
      rows: stretches.map((stretch) => ({
        fromS: stretch.fromS,
        toS: stretch.toS,
        lasts: spokenDuration(stretch.toS - stretch.fromS, 1),
        worst: figureView(worstFigure(stretch, condition, behind), {
          sessionId,
          label: `${what}, farthest ${condition.sense} the limit`,
        }),
        trace: smallTrace(stretch, condition),
        href: timelineHref(sessionId, stretch.fromS, stretch.toS),
      })),
    })),
  };
}

function worstFigure(
  stretch: SoughtStretch,
  condition: SeekCondition,
  { key, unit, sources }: Pick<Found, 'key' | 'unit' | 'sources'>,
): Figure {
  return {
    value: stretch.worst,
    unit: conditionUnit(condition.of, unit),
    uncertainty: null,
    method:
      condition.of === 'rate'
        ? 'Slope of the straight line of least squares through the samples within 1 s on both sides, farthest beyond the limit.'
        : 'Sample farthest beyond the limit; the stretch runs from crossing to crossing, linear between samples.',
    evidence: { sources, channels: [key], fromS: stretch.fromS, toS: stretch.toS },
  };
}

function smallTrace(
  { trace, fromS, toS }: Found['stretches'][number],
  { of, limit }: SeekCondition,
): SmallTrace {
  const firstS = trace.tS[0] ?? fromS;
  const spanS = Math.max(1e-9, (trace.tS.at(-1) ?? toS) - firstS);
  const least = Math.min(...trace.low, ...(of === 'value' ? [limit] : []));
  const most = Math.max(...trace.high, ...(of === 'value' ? [limit] : []));
  const tenths = (px: number): number => Math.round(px * 10) / 10;
  const x = (tS: number): number =>
    tenths(Math.min(1, Math.max(0, (tS - firstS) / spanS)) * SMALL_TRACE.widthPx);
  const y = (value: number): number => {
    const share = most > least ? (value - least) / (most - least) : 0.5;
    return tenths(SMALL_TRACE.heightPx - PAD_PX - share * (SMALL_TRACE.heightPx - 2 * PAD_PX));
  };
  const path = trace.tS
    .map((tS, index) => {
      const low = trace.low[index] ?? 0;
      const high = trace.high[index] ?? 0;
      const begin = `${index === 0 ? 'M' : 'L'}${x(tS)} ${y(low)}`;
      return low === high ? begin : `${begin}V${y(high)}`;
    })
    .join('');
  return { path, limitY: of === 'value' ? y(limit) : null, fromX: x(fromS), toX: x(toS) };
}
