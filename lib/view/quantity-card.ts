/** One compared quantity: its drawing, its stretches outside the band, and flight against single runs. */
import type { ComparedQuantity, Comparison } from '../core/reconstruction/comparison';
import { FEWEST_RUNS } from '../core/reconstruction/comparison-scores';
import { formatNumber } from '../core/units/number-text';
import { readerUnit } from '../core/units/reader-unit';
import { type BandColumns, type BandDrawing, bandDrawing } from './band-drawing';
import { evidenceKeys } from './comparison-keys';
import { countView, type FigureView, figureView, timelineHref } from './figure-view';
import { alignedFinding, type FindingPlace } from './finding-place';
import type { Sentence } from './sentence';

export type PairRow = Readonly<{
  key: string;
  against: string;
  bias: FigureView;
  rms: FigureView;
  peak: FigureView;
  peakAt: string;
  inside: FigureView;
  lag: FigureView | null;
  theil: FigureView;
  /** The three shares of the mean square difference. */
  shares: readonly FigureView[];
}>;

export type QuantityCard = Readonly<{
  key: string;
  label: string;
  unit: string;
  drawing: BandDrawing | null;
  /** What the drawing's foot says of its places. */
  placesText: string;
  /** Name of the opened run; null for none. */
  opened: string | null;
  /** The drawing for a reader who cannot see it. */
  spoken: string;
  outside: Sentence;
  stretches: readonly Readonly<{ text: string; href: string | null }>[];
  pairs: readonly PairRow[];
  rows: readonly (readonly string[])[];
  /** Where a finding on this quantity goes, with its numbers; null where nothing was aligned. */
  finding: FindingPlace | null;
  /** What the columns of the flight and of the band rest on. */
  places: FigureView;
  bandPlaces: FigureView;
}>;

function percent(figure: ComparedQuantity['shareOutside'], label: string, sessionId: string) {
  return figureView(figure, { sessionId, label, unit: '%' });
}

export function quantityCard(
  quantity: ComparedQuantity,
  comparison: Comparison,
  { sessionId, query }: Readonly<{ sessionId: string; query: string }>,
): QuantityCard {
  const { name, label, places } = quantity;
  const ofPlace = comparison.unit;
  const { unit, fromSi } = readerUnit(quantity.unit);
  const shown = (values: readonly (number | null)[]) =>
    values.map((value) => (value === null ? null : value * fromSi));
  // One run fills no band: the flight is beside it everywhere, or outside everywhere.
  const isBand = comparison.runs > 1;
  const outside = isBand ? quantity.outside : [];
  const columns = {
    places,
    unit: ofPlace,
    flight: shown(quantity.flight),
    p05: shown(quantity.p05),
    p50: shown(quantity.p50),
    p95: shown(quantity.p95),
    opened: shown(quantity.opened),
    outside,
  };
  const metres = outside.map(([from, to]) => stretchText(from, to, ofPlace));
  return {
    key: name,
    label,
    unit,
    drawing: bandDrawing(isBand ? columns : withoutBand(columns)),
    placesText: placesText(comparison.alignedOn, ofPlace),
    opened: comparison.opened,
    spoken: spokenText(label, comparison, metres),
    outside: outsideSentence(quantity, comparison, sessionId),
    stretches: outside.map(([from, to]) => ({
      text: stretchText(from, to, ofPlace),
      href: stretchHref(from, to, { places, passS: comparison.flightPassS, sessionId }),
    })),
    finding: alignedFinding(comparison.report, {
      sessionId,
      channels: quantity.flightPlaces.evidence.channels,
      keys: evidenceKeys(name),
      query,
    }),
    // The median of one run is that run.
    pairs: (isBand ? quantity.pairs : quantity.pairs.slice(-1)).map((pair, index) =>
      pairRow(pair, `${name}-${index}`, { label, ofPlace, sessionId }),
    ),
    places: countView(quantity.flightPlaces, {
      sessionId,
      label: `${label}, places of the flight`,
    }),
    bandPlaces: countView(quantity.bandPlaces, {
      sessionId,
      label: `${label}, places of the band`,
    }),
    rows: places.map((at, place) => [
      formatNumber(at, Number.isInteger(at) ? 0 : 2),
      ...[columns.flight, columns.p05, columns.p50, columns.p95].map((values) => {
        const value = values[place];
        return typeof value === 'number' ? formatNumber(value, 4) : 'none';
      }),
      String(quantity.runsThere[place] ?? 0),
    ]),
  };
}

/** The flight and the one run alone. */
function withoutBand(columns: BandColumns): BandColumns {
  const nothing = columns.places.map(() => null);
  return { ...columns, p05: nothing, p50: nothing, p95: nothing };
}

/** The drawing in words. */
function spokenText(label: string, comparison: Comparison, outside: readonly string[]): string {
  const { runs, alignedOn, opened } = comparison;
  if (runs < 2) return `${label} over ${alignedOn}: the flight and ${opened ?? 'one run'}.`;
  const flown =
    outside.length === 0 ? 'The flight stays inside' : `Outside at ${outside.join(', ')}`;
  return `${label} over ${alignedOn}: the flight and the band of ${runs} runs from the 5th to the 95th percentile. ${flown}.`;
}

/** How much lies outside, and what chance alone puts there: few runs cannot say the latter. */
function outsideSentence(
  quantity: ComparedQuantity,
  { runs }: Comparison,
  sessionId: string,
): Sentence {
  const { label } = quantity;
  if (runs < 2) return ['One run makes no band, so nothing is said to lie outside.'];
  const start = [
    'Outside the band at ',
    percent(quantity.shareOutside, `${label}, share outside`, sessionId),
  ];
  if (runs < FEWEST_RUNS) {
    return [
      ...start,
      ` of the places. A band of ${runs} runs is little more than from their smallest to their largest; they are too few to say what chance alone puts outside.`,
    ];
  }
  return [
    ...start,
    ' of the places; half of the runs at this share or less: ',
    percent(quantity.chanceMedian, `${label}, share outside of the median run`, sessionId),
    ', nineteen of twenty at ',
    percent(quantity.chanceP95, `${label}, share outside, 95th percentile`, sessionId),
    ' or less.',
  ];
}

function placesText(alignedOn: string, unit: 'm' | 's'): string {
  if (unit === 's') return `s, ${alignedOn}`;
  return alignedOn.startsWith('range') ? 'm, range' : 'm from the port, along the axis';
}

function stretchText(from: number, to: number, unit: string): string {
  return from === to ? `${from} ${unit}` : `${from} to ${to} ${unit}`;
}

type Passes = Readonly<{
  places: readonly number[];
  passS: readonly (number | null)[];
  sessionId: string;
}>;

/** The stretch on the timeline; null where the flight's passage is not known. */
function stretchHref(fromM: number, toM: number, { places, passS, sessionId }: Passes) {
  const timeOf = (place: number): number | null => passS[places.indexOf(place)] ?? null;
  const [a, b] = [timeOf(fromM), timeOf(toM)];
  return a === null || b === null ? null : timelineHref(sessionId, Math.min(a, b), Math.max(a, b));
}

function pairRow(
  pair: ComparedQuantity['pairs'][number],
  key: string,
  { label, ofPlace, sessionId }: Readonly<{ label: string; ofPlace: string; sessionId: string }>,
): PairRow {
  const view = (
    figure: ComparedQuantity['shareOutside'],
    what: string,
    form: 'number' | 'signed' = 'number',
  ) => figureView(figure, { sessionId, label: `${label}, ${what} against ${pair.against}`, form });
  const share = (figure: ComparedQuantity['shareOutside'], what: string) =>
    percent(figure, `${label}, share from ${what} against ${pair.against}`, sessionId);
  return {
    key,
    against: pair.against,
    bias: view(pair.bias, 'bias', 'signed'),
    rms: figureView(pair.rms, { sessionId, label: `${label}, rms against ${pair.against}` }),
    peak: view(pair.peak, 'peak difference', 'signed'),
    peakAt:
      pair.peakPlace === null
        ? ''
        : `at ${formatNumber(pair.peakPlace, Number.isInteger(pair.peakPlace) ? 0 : 1)} ${ofPlace}`,
    inside: percent(
      pair.inside,
      `${label}, inside the tolerance against ${pair.against}`,
      sessionId,
    ),
    lag: pair.lag === null ? null : view(pair.lag, 'lag', 'signed'),
    theil: view(pair.theil, 'Theil’s coefficient'),
    shares: [
      share(pair.theilBias, 'unequal means'),
      share(pair.theilVariance, 'unequal deviations'),
      share(pair.theilCovariance, 'shape'),
    ],
  };
}
