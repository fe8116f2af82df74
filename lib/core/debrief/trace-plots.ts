/** The strips of an approach: which derived columns stand together, and what is marked on them. */
import { MOTION_WORDS } from '../reconstruction/kind-words';
import type { DerivedColumns, Reconstruction } from '../reconstruction/reconstruction';
import { limitsOfRule, type RuleLimits, ruleOfLimit } from '../session/limit-columns';
import { nameFromId } from '../session/name-from-id';
import { decimateMinMax, joinedStepS } from './decimate';
import {
  COLOUR_DASH,
  type Plot,
  type PlotBand,
  type PlotMark,
  type PlotSeries,
  type SeriesColour,
} from './plot';
import { timeAxis, valueAxis } from './plot-axis';

const SERIES_COLOURS: readonly SeriesColour[] = [1, 2, 3, 4, 5];

/** Equal parts of the stretch of a figure: finer than a printer's dots on the width of a page. */
export const TRACE_PARTS = 600;

export type TraceRequest = Readonly<{
  idPrefix: string;
  /** Names of derived columns, from the top strip down. */
  channels: readonly string[];
  fromS: number;
  toS: number;
}>;

type Column = DerivedColumns['columns'][number];

/** Runs of motion as bands, and gaps of the telemetry. */
function bandsOf(reconstruction: Reconstruction): readonly PlotBand[] {
  const phases = reconstruction.phases.flatMap((phase): PlotBand[] =>
    phase.startS.value === null || phase.endS.value === null
      ? []
      : [
          {
            along: 'x',
            from: phase.startS.value,
            to: phase.endS.value,
            tone: phase.motion,
            label: phase.step === null ? MOTION_WORDS[phase.motion] : nameFromId(phase.step),
          },
        ],
  );
  const gaps = reconstruction.dataQuality
    .filter((fault) => fault.kind === 'gap' && fault.channel === null)
    .map(
      (fault): PlotBand => ({
        along: 'x',
        from: fault.startS,
        to: fault.endS,
        tone: 'gap',
        label: '',
      }),
    );
  const beyond = reconstruction.exceedances.flatMap((exceedance): PlotBand[] =>
    exceedance.startS.value === null || exceedance.endS.value === null
      ? []
      : [
          {
            along: 'x',
            from: exceedance.startS.value,
            to: exceedance.endS.value,
            tone: 'beyond',
            label: '',
          },
        ],
  );
  return [...phases, ...gaps, ...beyond];
}

function marksOf(reconstruction: Reconstruction): readonly PlotMark[] {
  const contactS = reconstruction.contact?.timeS.value ?? null;
  return contactS === null ? [] : [{ at: contactS, tone: 'contact', label: 'contact' }];
}

/**
 * The strip a column belongs to: a plan and a limit stand with the quantity they are about, the
 * axes of one vector together.
 */
function stripOf(reconstruction: Reconstruction, name: string): string {
  if (name.startsWith('planned_')) return name.slice('planned_'.length);
  const id = ruleOfLimit(name);
  if (id !== null) {
    const rule = reconstruction.ruleSet.find((each) => each.id === id);
    return (rule === undefined ? null : limitsOfRule(rule)?.quantity) ?? name;
  }
  if (name.startsWith('bounded.')) return name;
  return name.replace(/\.[^.]*$/, '');
}

/** Columns in the order asked for, grouped into strips; never two units in one. */
function groupIntoStrips(
  reconstruction: Reconstruction,
  derived: DerivedColumns,
  names: readonly string[],
): readonly (readonly Column[])[] {
  const groups = new Map<string, Column[]>();
  for (const name of names) {
    const column = derived.columns.find((candidate) => candidate.name === name);
    if (column === undefined) continue;
    const key = `${stripOf(reconstruction, name)} ${column.unit}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [column]);
    else if (!group.includes(column)) group.push(column);
  }
  return [...groups.values()];
}

/** A limit and a plan have the same colour in every figure, as on the timeline; others take turns. */
function colourOf(name: string, place: number): SeriesColour {
  if (ruleOfLimit(name) !== null) return 2;
  if (name.startsWith('planned_')) return 3;
  return SERIES_COLOURS[place % SERIES_COLOURS.length] ?? 1;
}

const USUAL = ['range', 'closing_rate', 'planned_closing_rate', 'lateral_offset'] as const;

/** Lines of limits that can be told apart in one figure; our own choice. */
const MOST_LIMITS = 8;

const WORST_FIRST: readonly string[] = ['broken', 'undecided', 'met'];

/** Limits held against the usual quantities, those that left the least room first. */
function usualLimits(reconstruction: Reconstruction): readonly RuleLimits[] {
  const results = new Map(reconstruction.rules.map((result) => [result.id, result]));
  const place = ({ rule }: RuleLimits) => WORST_FIRST.indexOf(results.get(rule.id)?.verdict ?? '');
  const room = ({ rule }: RuleLimits) => results.get(rule.id)?.margin?.value ?? Infinity;
  return reconstruction.ruleSet
    .flatMap((rule) => limitsOfRule(rule) ?? [])
    .filter((each) => USUAL.some((name) => name === each.quantity) && place(each) >= 0)
    .sort((one, other) => place(one) - place(other) || room(one) - room(other));
}

/** As many limits as can be told apart, each quantity its share of them, and how many there are in all. */
function drawnLimits(
  limits: readonly RuleLimits[],
): Readonly<{ drawn: readonly string[]; count: number }> {
  const columns = limits.flatMap(({ quantity, lines }) =>
    lines.map(({ column }) => ({ quantity, column })),
  );
  const quantities = new Set(columns.map(({ quantity }) => quantity));
  const share = Math.floor(MOST_LIMITS / Math.max(1, quantities.size));
  const count = columns.length;
  if (count <= MOST_LIMITS) return { drawn: columns.map(({ column }) => column), count };
  const drawn = [...quantities].flatMap((quantity) =>
    columns.filter((each) => each.quantity === quantity).slice(0, share),
  );
  return { drawn: drawn.map(({ column }) => column), count };
}

/**
 * Range, closing rate and lateral offset, with the plan and the limits that were held against them.
 *
 * @returns names of columns; `limits` says how many of the limits are among them, null where all are
 */
export function usualChannels(
  reconstruction: Reconstruction,
  derived: DerivedColumns,
): Readonly<{ channels: readonly string[]; limits: string | null }> {
  const { drawn, count } = drawnLimits(usualLimits(reconstruction));
  const channels = [...USUAL, ...drawn].filter((name) =>
    derived.columns.some((column) => column.name === name),
  );
  const limits =
    drawn.length === count
      ? null
      : `${drawn.length} of ${count} limits are drawn, those with the least room`;
  return { channels, limits };
}

/**
 * Strips over one stretch, with runs of motion, gaps, exceedances and contact marked.
 *
 * @param reconstruction for what is marked
 * @param derived the columns; radians are drawn in degrees
 * @param request which columns and stretch
 * @returns one strip per quantity; none where no column asked for exists
 */
export function tracePlots(
  reconstruction: Reconstruction,
  derived: DerivedColumns,
  request: TraceRequest,
): readonly Plot[] {
  const x = timeAxis(request.fromS, request.toS);
  const gapS = joinedStepS(derived.tS);
  const inStretch = { fromS: request.fromS, toS: request.toS, buckets: TRACE_PARTS, gapS };
  const overlaps = (from: number, to: number) => to >= request.fromS && from <= request.toS;
  const bands = bandsOf(reconstruction).filter((band) => overlaps(band.from, band.to));
  const marks = marksOf(reconstruction).filter((mark) => overlaps(mark.at, mark.at));
  return groupIntoStrips(reconstruction, derived, request.channels).map((columns, index): Plot => {
    const series = columns.map((column, place): PlotSeries => {
      const colour = colourOf(column.name, place);
      const degrees = column.unit.startsWith('rad');
      const values = degrees
        ? column.values.map((value) => (value * 180) / Math.PI)
        : column.values;
      const points = decimateMinMax(derived.tS, values, inStretch);
      return { id: column.name, label: column.label, colour, dash: COLOUR_DASH[colour], ...points };
    });
    const first = columns[0];
    const unit = (first?.unit ?? '').replace(/^rad/, 'deg');
    const label = first?.label ?? '';
    const y = valueAxis(
      series.flatMap((trace) => trace.y),
      { label, unit },
    );
    return { id: `${request.idPrefix}-${index}`, x, y, series, bands, marks, points: [] };
  });
}
